import { randomUUID } from 'node:crypto'
import { countHanging, openHanging } from '@/lib/features/clutch-observation/data'
import {
  archiveClutchObservation,
  recordClutchObservation,
} from '@/lib/features/clutch-observation/mutations'
import { newObservationFormSchema } from '@/lib/features/clutch-observation/schema'
import { listCohortLives } from '@/lib/features/cohort/data'
import { listLastLooks, listLookDays, openLooks } from '@/lib/features/look/data'
import { archiveSigns, recordLooks } from '@/lib/features/look/mutations'
import { listMoultRounds } from '@/lib/features/moult/data'
import { archiveMoultRound, recordRoundShelf } from '@/lib/features/moult/mutations'
import { roundShelfSchema } from '@/lib/features/moult/schema'
import type { Calls } from './call'

const ON = '2026-03-20'

/** Looks, rounds and what is seen of siblings who are together. */
export const ROUND_READS: Calls = {
  'look/data listLastLooks': (tx, { workspace }, id) =>
    listLastLooks(tx, workspace.workspaceId, { individualIds: [id.individual] }),
  'moult/data listMoultRounds': (tx, { workspace }) => listMoultRounds(tx, workspace.workspaceId, 5),
  'look/data listLookDays': (tx, { workspace }, id) =>
    listLookDays(tx, workspace.workspaceId, { individualIds: [id.individual], since: '2026-01-01' }),
  'cohort/data listCohortLives': (tx, { workspace }, id) =>
    listCohortLives(tx, workspace.workspaceId, id.clutch),
  'clutch-observation/data countHanging': (tx, { workspace }, id) =>
    countHanging(tx, workspace.workspaceId, { clutchId: id.clutch, on: ON }),
}

export const ROUND_WRITES: Calls = {
  'moult/mutations recordRoundShelf': (tx, actor, id) =>
    recordRoundShelf(
      tx,
      actor,
      roundShelfSchema.parse({
        round: randomUUID(),
        on: '2026-03-09',
        skins: [],
        passed: [id.individual],
      }),
    ),
  'moult/mutations archiveMoultRound': (tx, actor, id) =>
    archiveMoultRound(tx, actor, { round: id.moultRound }),
  'look/mutations recordLooks': (tx, actor, id) =>
    recordLooks(tx, actor, { on: ON, individuals: [id.individual] }),
  'look/data openLooks': (tx, { workspace }, id) =>
    openLooks(tx, workspace.workspaceId, [{ id: id.individual, on: '2026-03-12', wingBuds: true, by: null }]),
  'look/mutations archiveSigns': (tx, actor, id) =>
    archiveSigns(tx, actor, { individual: id.individual, on: '2026-03-11' }),
  'clutch-observation/data openHanging': async (tx, { workspace }, id) => {
    const seen = { clutchId: id.clutch, on: ON, moults: 1, count: 3, seenBy: null }
    await openHanging(tx, workspace.workspaceId, seen)
  },
  'clutch-observation/mutations recordClutchObservation': (tx, actor, id) => {
    const seen = { clutch: id.clutch, on: ON, moulted: 'some', dead: 1 }
    return recordClutchObservation(tx, actor, newObservationFormSchema.parse(seen))
  },
  'clutch-observation/mutations archiveClutchObservation': (tx, actor, id) =>
    archiveClutchObservation(tx, actor, { observation: id.observation, version: 1 }),
}
