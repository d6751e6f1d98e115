import type { PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { parametersOf } from '@/lib/domain/development/posterior'
import { isShortOfFood } from '@/lib/domain/food-demand/short'
import { HEAD_COUNT_FIELDS, type HeadCount } from '@/lib/domain/head-count/head-count'
import type { LedgerEntry } from '@/lib/domain/head-count/ledger'
import { forecastSeparation, type SeparationForecast, sharesByDay } from '@/lib/domain/separation/deadline'
import type { SeparationInput } from '@/lib/domain/separation/input'
import { lossScaleOf } from '@/lib/domain/separation/loss-scale'
import { type ClutchSighting, sightingsAsOf, signsOf } from '@/lib/domain/separation/sighting'
import { historyOfZoneStays, type Stay, staysAsOf } from '@/lib/domain/zone/history'
import { type ForecastGround, type GroundQuestion, loadForecastGround } from '@/lib/features/egg-case/data'
import { loadShortFood } from '@/lib/features/food-shortage/data'
import { loadOwnLosses, type OwnLosses } from '@/lib/features/sibling-loss/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant, refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type ClutchOrigin = { eggCaseId: string; eggCaseLabel: string; on: PlainDate; likely: number }

export type ClutchRow = {
  id: string
  label: string
  speciesId: string
  hatchedOn: PlainDate
  counted: boolean
  hatchedLow: number | null
  hatchedHigh: number | null
  notes: string
  version: number
  headCount: HeadCount
  stays: (Stay & {
    containerId: string | null
    volumeMl: number | null
    colonyId: string | null
    colonyName: string | null
    /** Put there although their day to be apart had come, with the reason that was given. */
    pastDueOn: PlainDate | null
    overrideReason: string
  })[]
  hatches: ClutchOrigin[]
  /** what was seen of those together, earliest first */
  sightings: SeenTogether[]
}

/** What was seen, as it is shown and can be taken back. */
export type SeenTogether = ClutchSighting & {
  id: string
  version: number
  note: string
  seenBy: string | null
}

export type ClutchFilter = {
  ids?: readonly string[]
  speciesId?: string
  /** Only clutches with siblings still together. */
  isTogether?: boolean
  /** The id of the last one already seen. */
  after?: string
  limit: number
}

/** The head counts of every clutch from the entries up to a day: what the table would have said that evening. */
const headCountAsOf = (workspaceId: WorkspaceId, asOf: PlainDate) => Prisma.sql`
  select x.clutch_id, jsonb_build_object(
      'hatched', sum(case when x."from" = 'uncounted' then x.count when x."to" = 'uncounted' then -x.count else 0 end),
      ${Prisma.join(
        Object.entries(HEAD_COUNT_FIELDS).map(
          ([state, field]) => Prisma.sql`${field}::text, sum(case ${state}::head_count_state
            when x."to" then x.count when x."from" then -x.count else 0 end)`,
        ),
        ', ',
      )}) as head_count
  from head_count_entry x
  where x.workspace_id = ${workspaceId}::uuid and x.clutch_id is not null and x."on" <= ${asOf}::date
  group by x.clutch_id`

const headCountNow = (workspaceId: WorkspaceId) => Prisma.sql`
  select h.clutch_id, jsonb_build_object('hatched', h.hatched, 'together', h.together, 'single', h.single,
    'sold', h.sold, 'givenAway', h.given_away, 'dead', h.dead, 'escaped', h.escaped,
    'unaccounted', h.unaccounted) as head_count
  from head_count h where h.workspace_id = ${workspaceId}::uuid`

/**
 * Clutches, newest record first, with head count, stays and hatches: one statement however many there are. With
 * `asOf` each record counts by its own day.
 */
export async function listClutches(
  tx: Tx,
  workspaceId: WorkspaceId,
  filter: ClutchFilter & { asOf?: PlainDate },
): Promise<ClutchRow[]> {
  const counts = filter.asOf ? headCountAsOf(workspaceId, filter.asOf) : headCountNow(workspaceId)
  return tx.$queryRaw<ClutchRow[]>`
    select c.id, c.label, c.species_id as "speciesId", c.hatched_on::text as "hatchedOn", c.counted,
      c.hatched_low as "hatchedLow", c.hatched_high as "hatchedHigh", c.notes, c.version,
      n.head_count as "headCount",
      (select coalesce(json_agg(json_build_object('zoneId', s.zone_id, 'from', s.from_on, 'until', s.until_on,
          'containerId', s.container_id, 'pastDueOn', s.past_due_on, 'overrideReason', s.override_reason,
          'colonyId', s.colony_id, 'colonyName', (select o.name from colony o
            where o.workspace_id = s.workspace_id and o.id = s.colony_id), 'volumeMl', (select k.volume_ml
            from container x join container_kind k on k.workspace_id = x.workspace_id and k.id = x.container_kind_id
            where x.workspace_id = s.workspace_id and x.id = s.container_id))
          order by s.from_on, s.until_on nulls last), '[]')
        from clutch_housing s where s.workspace_id = c.workspace_id and s.clutch_id = c.id) as stays,
      (select coalesce(json_agg(json_build_object('eggCaseId', e.id, 'eggCaseLabel', e.label, 'on', t."on",
          'likely', t.likely) order by t."on", t.id), '[]')
        from hatch t join egg_case e on e.workspace_id = t.workspace_id and e.id = t.egg_case_id
        where t.workspace_id = c.workspace_id and t.clutch_id = c.id) as hatches,
      (select coalesce(json_agg(json_build_object('on', o."on", 'moulted', o.moulted, 'number', o.number,
          'sizeGap', o.size_gap, 'hunger', o.hunger, 'hanging', o.hanging, 'wingBuds', o.wing_buds,
          'refusesFood', o.refuses_food, 'id', o.id, 'version', o.version, 'note', o.note,
          'seenBy', m.display_name) order by o."on", o.id), '[]')
        from clutch_observation o
        left join membership m on m.workspace_id = o.workspace_id and m.person_id = o.seen_by
        where o.workspace_id = c.workspace_id and o.clutch_id = c.id and o.archived_at is null) as sightings
    from clutch c join (${counts}) n on n.clutch_id = c.id
    where c.workspace_id = ${workspaceId}::uuid ${conditionsOf(filter)}
    order by c.id desc limit ${filter.limit}`
}

function conditionsOf(filter: ClutchFilter & { asOf?: PlainDate }): Prisma.Sql {
  const { ids, speciesId, isTogether, after, asOf } = filter
  const conditions = [
    ids && Prisma.sql`and c.id = any(${[...ids]}::uuid[])`,
    speciesId && Prisma.sql`and c.species_id = ${speciesId}::uuid`,
    isTogether && Prisma.sql`and (n.head_count->>'together')::int > 0`,
    asOf && Prisma.sql`and c.hatched_on <= ${asOf}::date`,
    after && Prisma.sql`and c.id < ${after}::uuid`,
  ].filter((condition): condition is Prisma.Sql => typeof condition === 'object')
  return conditions.length === 0 ? Prisma.empty : Prisma.join(conditions, ' ')
}

/** @throws AppError not-found */
export async function requireClutch(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id, asOf }: { id: string; asOf?: PlainDate },
): Promise<ClutchRow> {
  const [row] = await listClutches(tx, workspaceId, { ids: [id], limit: 1, asOf })
  if (!row) throw refuseUnknown('clutch')
  return row
}

export type LockedClutch = {
  id: string
  label: string
  speciesId: string
  hatchedOn: PlainDate
  counted: boolean
  hatchedHigh: number | null
  headCount: HeadCount
}

/**
 * The clutch with its row locked: whatever looks at the head count before it writes has to be the only one to.
 * Entries of others wait for it, since their reference to the clutch does.
 * @throws AppError not-found
 */
export async function lockClutch(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<LockedClutch> {
  const rows = await tx.$queryRaw<Omit<LockedClutch, 'headCount'>[]>`
    select id, label, species_id as "speciesId", hatched_on::text as "hatchedOn", counted,
      hatched_high as "hatchedHigh"
    from clutch where workspace_id = ${workspaceId}::uuid and id = ${id}::uuid for update`
  const clutch = rows[0]
  if (!clutch) throw refuseUnknown('clutch')
  return { ...clutch, headCount: await loadHeadCount(tx, workspaceId, { clutchId: id }) }
}

/**
 * What a loss or a separation takes from those together. While the count is "about" the range is what is known, so
 * more than the likely number raises it, as far as the range goes; in a counted clutch it cannot be.
 * @throws AppError more-than-left
 */
export function raiseNeeded(clutch: LockedClutch, count: number): number {
  const missing = count - clutch.headCount.together
  if (missing <= 0) return 0
  const highest = clutch.counted ? 0 : (clutch.hatchedHigh ?? 0)
  if (clutch.headCount.hatched + missing <= highest) return missing
  throw new AppError('more-than-left', `Only ${clutch.headCount.together} of ${clutch.label} are together.`, {
    fields: [{ path: 'count', message: `Only ${clutch.headCount.together} are left together.` }],
    present: { headCount: clutch.headCount },
  })
}

/** The head count of one clutch, now or at the end of a day. */
export async function loadHeadCount(
  tx: Tx,
  workspaceId: WorkspaceId,
  { clutchId, asOf }: { clutchId: string; asOf?: PlainDate },
): Promise<HeadCount> {
  const counts = asOf ? headCountAsOf(workspaceId, asOf) : headCountNow(workspaceId)
  const rows = await tx.$queryRaw<{ headCount: HeadCount }[]>`
    select n.head_count as "headCount" from clutch c join (${counts}) n on n.clutch_id = c.id
    where c.workspace_id = ${workspaceId}::uuid and c.id = ${clutchId}::uuid`
  const found = rows[0]
  invariant(found || asOf, 'every clutch has a head count')
  if (!found) throw refuseUnknown('head count on that day')
  return found.headCount
}

export type EntryRow = LedgerEntry & { individualId: string | null; recordedAt: Date }

/** The ledger of a clutch, newest first. */
export async function listEntries(
  tx: Tx,
  workspaceId: WorkspaceId,
  { clutchId, limit }: { clutchId: string; limit: number },
): Promise<EntryRow[]> {
  return tx.$queryRaw<EntryRow[]>`
    select x.id, x."from"::text as "from", x."to"::text as "to", x.count, x."on"::text as "on",
      x.cause::text as cause, x.note, x.reverses, r.id is not null as "isReversed",
      x.separation_id as "separationId", x.individual_id as "individualId", i.label as "individualLabel",
      m.display_name as "recordedBy", x.recorded_at as "recordedAt"
    from head_count_entry x
    left join head_count_entry r on r.workspace_id = x.workspace_id and r.reverses = x.id
    left join individual i on i.workspace_id = x.workspace_id and i.id = x.individual_id
    left join membership m on m.workspace_id = x.workspace_id and m.person_id = x.recorded_by
    where x.workspace_id = ${workspaceId}::uuid and x.clutch_id = ${clutchId}::uuid
    order by x.recorded_at desc, x.id desc limit ${limit}`
}

/** Null where nothing can be said: a species without a profile, or no temperature anywhere. */
export function forecastClutch(row: ClutchRow, ground: ForecastGround): SeparationForecast | null {
  const input = separationInputOf(row, ground)
  return input && forecastSeparation(input)
}

/** The ground for clutches: with what this workspace's own groups have lost, as it was known on a day. */
export async function loadClutchGround(
  tx: Tx,
  workspace: Workspace,
  asked: GroundQuestion = {},
): Promise<ForecastGround & { losses: OwnLosses }> {
  const ground = await loadForecastGround(tx, workspace, asked)
  const { workspaceId } = workspace
  const losses = await loadOwnLosses(tx, workspaceId, ground)
  const shortFood = (await loadShortFood(tx, workspaceId, ground.today)) ?? undefined
  return { ...ground, losses, shortFood }
}

/** What a clutch's deadline and the plan are both worked out from. */
export function separationInputOf(row: ClutchRow, ground: ForecastGround): SeparationInput | null {
  const { losses, today } = ground
  const { profile, learned } = ground.species.get(row.speciesId) ?? {}
  const stays = staysAsOf(row.stays, today)
  const history = historyOfZoneStays(stays, ground.zones)
  if (!profile || history.length === 0) return null
  const isInColony = stays.findLast(({ until }) => until === null)?.colonyId != null
  const input: SeparationInput = {
    profile: isInColony ? withoutPartingDay(profile) : profile,
    hatchedOn: row.hatchedOn,
    together: row.headCount.together,
    history,
    today,
    volumeMl: stays.findLast(({ until }) => until === null)?.volumeMl ?? undefined,
    sightings: sightingsAsOf(row.sightings, today),
    signs: { ...signsOf(row.sightings, today), hasUnexpectedLosses: losses?.unexpected.has(row.id) ?? false },
    ...(learned ? { parameters: parametersOf(learned, { clutchId: row.id }) } : {}),
    ...(losses ? { lossScale: lossScaleOf(losses, row.speciesId).scale } : {}),
  }
  const isFoodShort = ground.shortFood && isShortOfFood(profile, likeliestMoults(input), ground.shortFood)
  return isFoodShort ? { ...input, signs: { ...input.signs, isFoodShort } } : input
}

function likeliestMoults(input: SeparationInput): number {
  const shares = sharesByDay(input)(input.today)
  return shares.indexOf(Math.max(...shares))
}

/** In a colony there is no instar by which they have to be apart; what waiting costs is still reckoned. */
function withoutPartingDay(profile: CareProfile): CareProfile {
  const { separation } = profile
  return {
    ...profile,
    separation: { ...separation, apartAtMoults: { ...separation.apartAtMoults, value: null } },
  }
}

/** The stage most siblings are expected to be in today, as moults since hatch. */
export function likelyMoults(forecast: SeparationForecast | null): number {
  if (!forecast) return 0
  return Math.max(0, forecast.sharesToday.indexOf(Math.max(...forecast.sharesToday)))
}

export function zoneOfClutch(row: Pick<ClutchRow, 'stays'>): string | null {
  return row.stays.findLast((stay) => stay.until === null)?.zoneId ?? row.stays.at(-1)?.zoneId ?? null
}
