import { listLastLooks, listLookDays } from '@/lib/features/look/data'
import { recordLooks } from '@/lib/features/look/mutations'
import type { Calls } from './call'

const ON = '2026-03-20'

/** Looks, rounds and what is seen of siblings who are together. */
export const ROUND_READS: Calls = {
  'look/data listLastLooks': (tx, { workspace }, id) =>
    listLastLooks(tx, workspace.workspaceId, { individualIds: [id.individual] }),
  'look/data listLookDays': (tx, { workspace }, id) =>
    listLookDays(tx, workspace.workspaceId, { individualIds: [id.individual], since: '2026-01-01' }),
}

export const ROUND_WRITES: Calls = {
  'look/mutations recordLooks': (tx, actor, id) =>
    recordLooks(tx, actor, { on: ON, individuals: [id.individual] }),
}
