import type { PlainDate } from '@/lib/domain/calendar/date'
import type { HandedRecord } from '@/lib/domain/hand-over/record'
import { lastMoultOn, moultsOf } from '@/lib/domain/individual/record'
import type { ZonesById } from '@/lib/domain/zone/history'
import type { IndividualRow } from '@/lib/features/individual/data'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type HandOverRow = {
  id: string
  toName: string
  note: string
  offeredOn: PlainDate
  withdrawnOn: PlainDate | null
  acceptedOn: PlainDate | null
  claim: string | null
  content: HandedRecord[] | null
  version: number
  animals: { id: string; label: string; whereabouts: string; hasLeft: boolean }[]
}

/** Offers of this workspace, newest first; one statement. */
export function listHandOvers(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id = null }: { id?: string | null } = {},
): Promise<HandOverRow[]> {
  return tx.$queryRaw<HandOverRow[]>`
    select h.id, h.to_name as "toName", h.note, h.offered_on::text as "offeredOn",
      h.withdrawn_on::text as "withdrawnOn", h.accepted_on::text as "acceptedOn", h.claim, h.content, h.version,
      (select coalesce(json_agg(json_build_object('id', i.id, 'label', i.label, 'whereabouts', i.whereabouts,
          'hasLeft', a.entry_id is not null) order by i.label), '[]')
        from hand_over_animal a join individual i on i.workspace_id = a.workspace_id and i.id = a.individual_id
        where a.workspace_id = h.workspace_id and a.hand_over_id = h.id) as animals
    from hand_over h
    where h.workspace_id = ${workspaceId}::uuid and (${id}::uuid is null or h.id = ${id}::uuid)
    order by h.id desc limit 60`
}

/** One offer. @throws AppError not-found */
export async function requireHandOver(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<HandOverRow> {
  const [row] = await listHandOvers(tx, workspaceId, { id })
  if (!row) throw refuseUnknown('hand-over')
  return row
}

/** The same, locked until the end of the transaction. @throws AppError not-found */
export async function lockHandOver(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<HandOverRow> {
  await tx.$queryRaw`
    select id from hand_over where workspace_id = ${workspaceId}::uuid and id = ${id}::uuid for update`
  return requireHandOver(tx, workspaceId, id)
}

/** What goes with an animal: its records as they are on the day it is handed over. */
export function recordOf(animal: IndividualRow, zones: ZonesById): HandedRecord {
  const { label, speciesSlug, scientificName, origin, sex, sexCertainty, adultSinceOn, hatchedOn } = animal
  const stay = animal.stays.findLast(({ until }) => until === null)
  return {
    ...{ label, speciesSlug, scientificName, origin, sex, sexCertainty, adultSinceOn, hatchedOn },
    moults: moultsOf(animal),
    lastMoultOn: lastMoultOn(animal),
    clutch: animal.clutchLabel,
    mated: animal.mated,
    supplier: animal.supplier,
    notes: animal.notes,
    pastMoults: animal.moults.map(({ number, on, outcome, note }) => ({ number, on, outcome, note })),
    lastFed: animal.lastFedOn ? { on: animal.lastFedOn, prey: animal.lastFedPrey ?? '' } : null,
    quarantineUntil: (stay && zones.get(stay.zoneId)?.quarantineUntil) ?? null,
  }
}
