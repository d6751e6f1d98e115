import type { PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import {
  type ColonyLine,
  colonyCapacity,
  largestLengthMm,
  type StageSpan,
  spanOf,
  widenSpan,
} from '@/lib/domain/colony/company'
import type { ColonyAnswer } from '@/lib/features/colony/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type ColonyMember = {
  stayId: string
  clutchId: string
  label: string
  together: number
  from: PlainDate
  leastMoults: number
  mostMoults: number
  tooMany: number | null
  overrideReason: string
}

export type ColonyRow = {
  id: string
  name: string
  speciesId: string
  scientificName: string
  containerId: string
  kindName: string
  volumeMl: number
  zoneId: string
  zoneName: string
  openedOn: PlainDate
  closedOn: PlainDate | null
  notes: string
  version: number
  members: ColonyMember[]
  countedOn: PlainDate | null
  countedBy: string | null
  lines: ColonyLine[]
  eggCases: { id: string; label: string; on: PlainDate | null }[]
}

export type ColonyFilter = { id?: string; speciesId?: string; isOpen?: boolean }

/** Colonies, open ones first, with who is inside and the lines of the last count: one statement. */
export async function listColonies(
  tx: Tx,
  workspaceId: WorkspaceId,
  filter: ColonyFilter = {},
): Promise<ColonyRow[]> {
  const conditions = [
    filter.id && Prisma.sql`and o.id = ${filter.id}::uuid`,
    filter.speciesId && Prisma.sql`and o.species_id = ${filter.speciesId}::uuid`,
    filter.isOpen && Prisma.sql`and o.closed_on is null`,
  ].filter((condition): condition is Prisma.Sql => typeof condition === 'object')
  return tx.$queryRaw<ColonyRow[]>`
    select o.id, o.name, o.species_id as "speciesId", s.scientific_name as "scientificName",
      o.container_id as "containerId", k.name as "kindName", k.volume_ml as "volumeMl", o.zone_id as "zoneId",
      z.name as "zoneName", o.opened_on::text as "openedOn", o.closed_on::text as "closedOn", o.notes, o.version,
      last."on"::text as "countedOn", last.by as "countedBy",
      (select coalesce(json_agg(json_build_object('stayId', h.id, 'clutchId', c.id, 'label', c.label,
          'together', n.together, 'from', h.from_on, 'leastMoults', h.least_moults, 'mostMoults', h.most_moults,
          'tooMany', h.too_many, 'overrideReason', h.override_reason) order by c.label), '[]')
        from clutch_housing h
        join clutch c on c.workspace_id = h.workspace_id and c.id = h.clutch_id
        join head_count n on n.workspace_id = h.workspace_id and n.clutch_id = h.clutch_id
        where h.workspace_id = o.workspace_id and h.colony_id = o.id and h.until_on is null) as members,
      (select coalesce(json_agg(json_build_object('sex', x.sex, 'moults', x.moults, 'isAdult', x.adult,
          'animals', x.animals) order by x.adult, x.moults, x.sex), '[]')
        from colony_count x
        where x.workspace_id = o.workspace_id and x.colony_id = o.id and x.archived_at is null
          and x."on" = last."on") as lines,
      (select coalesce(json_agg(json_build_object('id', e.id, 'label', e.label,
          'on', coalesce(e.laid_on, e.laid_from, e.received_on)) order by e.id), '[]')
        from egg_case e where e.workspace_id = o.workspace_id and e.colony_id = o.id) as "eggCases"
    from colony o
    join species s on s.workspace_id = o.workspace_id and s.id = o.species_id
    join container r on r.workspace_id = o.workspace_id and r.id = o.container_id
    join container_kind k on k.workspace_id = o.workspace_id and k.id = r.container_kind_id
    join zone z on z.workspace_id = o.workspace_id and z.id = o.zone_id
    left join lateral (
      select x."on", m.display_name as by from colony_count x
      left join membership m on m.workspace_id = x.workspace_id and m.person_id = x.counted_by
      where x.workspace_id = o.workspace_id and x.colony_id = o.id and x.archived_at is null
      order by x."on" desc, x.id desc limit 1) last on true
    where o.workspace_id = ${workspaceId}::uuid
      ${conditions.length === 0 ? Prisma.empty : Prisma.join(conditions, ' ')}
    order by o.closed_on is not null, o.name, o.id`
}

/** @throws AppError not-found */
export async function requireColony(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<ColonyRow> {
  const [row] = await listColonies(tx, workspaceId, { id })
  if (!row) throw refuseUnknown('colony')
  return row
}

/** Which stages are inside, by the last count and who was put in since: as the database sees it. */
export function spanInside({ lines, countedOn, members }: ColonyRow): StageSpan | null {
  const since = members.filter(
    ({ from, together }) => together > 0 && (countedOn === null || from > countedOn),
  )
  return since.reduce<StageSpan | null>(
    (span, { leastMoults, mostMoults }) => widenSpan(span, { least: leastMoults, most: mostMoults }),
    spanOf(lines),
  )
}

/** How many there is room for, judged by the largest inside or coming; null while nobody is. */
export function capacityOf(
  { volumeMl }: Pick<ColonyRow, 'volumeMl'>,
  profile: CareProfile | null,
  span: StageSpan | null,
): number | null {
  return profile && span ? colonyCapacity(volumeMl, largestLengthMm(profile, span)) : null
}

/** The clutches of which somebody lived in a colony on a day, and so may be a parent of what was laid there. */
export async function listClutchesInColony(
  tx: Tx,
  workspaceId: WorkspaceId,
  { colonyId, from, until }: { colonyId: string; from: PlainDate; until: PlainDate },
): Promise<{ id: string; label: string }[]> {
  return tx.$queryRaw<{ id: string; label: string }[]>`
    select distinct c.id, c.label from clutch_housing h
    join clutch c on c.workspace_id = h.workspace_id and c.id = h.clutch_id
    where h.workspace_id = ${workspaceId}::uuid and h.colony_id = ${colonyId}::uuid
      and daterange(h.from_on, h.until_on, '[]') && daterange(${from}::date, ${until}::date, '[]')
    order by c.label`
}

/** A colony as the API says it. */
export function presentColony(row: ColonyRow, profile: CareProfile | null): ColonyAnswer {
  const { id, name, speciesId, containerId, zoneId, openedOn, closedOn, members, countedOn, lines } = row
  return {
    ...{ id, name, openedOn, closedOn, version: row.version },
    species: speciesId,
    container: containerId,
    zone: zoneId,
    clutches: members.map(({ clutchId, label, together }) => ({ id: clutchId, label, together })),
    counted: countedOn
      ? {
          on: countedOn,
          lines: lines.map(({ sex, moults, isAdult, animals }) => ({ sex, moults, adult: isAdult, animals })),
        }
      : null,
    capacity: capacityOf(row, profile, spanInside(row)),
  }
}
