import type { PlainDate } from '@/lib/domain/calendar/date'
import type { HandedRecord } from '@/lib/domain/hand-over/record'
import { lastMoultOn, moultsOf } from '@/lib/domain/individual/record'
import type { PaperFacts } from '@/lib/domain/paper/paper'
import type { ZonesById } from '@/lib/domain/zone/history'
import type { HandOverAnswer } from '@/lib/features/hand-over/schema'
import type { IndividualRow } from '@/lib/features/individual/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import type { RemadePicture } from '@/lib/platform/files'
import { handOverCode } from '@/lib/platform/hand-over-link'
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
export function recordOf(
  animal: IndividualRow,
  { zones, papers }: { zones: ZonesById; papers: PaperFacts[] },
): HandedRecord {
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
    papers: papers.map(({ kind, number, on }) => ({ kind, number, on })),
  }
}

/** As many of one animal as go along: the one on its sheet first, then the newest. */
export const MOST_HANDED_PHOTOS = 10

/** A photo that goes along, by the label its animal has there. */
export type HandedPhoto = { id: string; label: string; onSheet: boolean }

/** The photos of the animals that left with an offer, those that go along. */
export function listHandedPhotos(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<HandedPhoto[]> {
  return tx.$queryRaw<HandedPhoto[]>`
    select p.id, p.label, p."onSheet" from (
      select f.id, i.label, f.on_sheet as "onSheet",
        row_number() over (partition by f.individual_id order by f.on_sheet desc, f.id desc) as place
      from hand_over_animal a
      join individual i on i.workspace_id = a.workspace_id and i.id = a.individual_id
      join photo f on f.workspace_id = a.workspace_id and f.individual_id = a.individual_id
      where a.workspace_id = ${workspaceId}::uuid and a.hand_over_id = ${id}::uuid and a.entry_id is not null
        and f.archived_at is null) p
    where p.place <= ${MOST_HANDED_PHOTOS}
    order by p.label, p.id`
}

/** The pictures of some of those photos; of any other photo nothing. */
export async function loadHandedPictures(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id, photoIds }: { id: string; photoIds: readonly string[] },
): Promise<Map<string, RemadePicture>> {
  const rows = await tx.$queryRaw<({ id: string } & RemadePicture)[]>`
    select f.id, f.width_px as "widthPx", f.height_px as "heightPx", c."full", c.small
    from photo f
    join photo_content c on c.workspace_id = f.workspace_id and c.photo_id = f.id
    join hand_over_animal a on a.workspace_id = f.workspace_id and a.individual_id = f.individual_id
    where f.workspace_id = ${workspaceId}::uuid and f.id = any(${[...photoIds]}::uuid[]) and a.hand_over_id = ${id}::uuid
      and a.entry_id is not null and f.archived_at is null`
  return new Map(rows.map(({ id: photoId, ...picture }) => [photoId, picture]))
}

/** What the API shows of an offer: not its code, and nothing of who took it but the name. */
export function presentHandOver(row: HandOverRow): HandOverAnswer {
  const { id, toName, note, offeredOn, withdrawnOn, acceptedOn, animals, version } = row
  return {
    ...{ id, toName, note, offeredOn, withdrawnOn, acceptedOn, version },
    animals: animals.map(({ id: individual, label, hasLeft }) => ({ individual, label, hasLeft })),
  }
}

/** The code of an offer that can be taken. @throws AppError already-gone for one that cannot */
export async function loadHandOverCode(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<string> {
  const { acceptedOn, withdrawnOn } = await requireHandOver(tx, workspaceId, id)
  if (acceptedOn !== null || withdrawnOn !== null)
    throw new AppError('already-gone', 'This offer was withdrawn, or somebody has taken them over.')
  return handOverCode({ workspaceId, id })
}
