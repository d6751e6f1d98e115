import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { Sex } from '@/lib/domain/care-profile/body-length'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { openCourses } from '@/lib/domain/development/instar-length'
import { moultsOf, recordAsOf } from '@/lib/domain/individual/record'
import { formatCode } from '@/lib/domain/label/code'
import type { IndividualRow } from '@/lib/features/individual/data'
import type { SpeciesWithProfile } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { Warning } from '@/lib/platform/warned'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type AskedLooks = {
  /** All animals of the workspace where left out. */
  individualIds?: readonly string[]
  /** Only what had been seen by then. */
  asOf?: PlainDate
}

/**
 * The last day on which each animal was looked at, by its id: a recorded look, or a feeding, eaten or refused. A moult
 * is no look here, though whoever noticed it looked: its own day is on the animal's record. Animals nobody ever looked
 * at are missing.
 */
export async function listLastLooks(
  tx: Tx,
  workspaceId: WorkspaceId,
  { individualIds, asOf }: AskedLooks = {},
): Promise<Map<string, PlainDate>> {
  const conditions = conditionsOf({ individualIds, asOf })
  const rows = await tx.$queryRaw<{ individualId: string; on: PlainDate }[]>`
    select x.individual_id as "individualId", max(x."on")::text as "on"
    from (
      select l.individual_id, l."on" from look l
      where l.workspace_id = ${workspaceId}::uuid and l.archived_at is null
      union all
      select f.individual_id, f."on" from feeding f where f.workspace_id = ${workspaceId}::uuid
    ) x where true ${conditions}
    group by x.individual_id`
  return new Map(rows.map(({ individualId, on }) => [individualId, on]))
}

/** Every day since `since` on which each animal was looked at, ascending, by its id. */
export async function listLookDays(
  tx: Tx,
  workspaceId: WorkspaceId,
  { individualIds, since }: { individualIds: readonly string[]; since: PlainDate },
): Promise<Map<string, PlainDate[]>> {
  const rows = await tx.$queryRaw<{ individualId: string; days: PlainDate[] }[]>`
    select x.individual_id as "individualId", json_agg(distinct x."on" order by x."on") as days
    from (
      select l.individual_id, l."on" from look l
      where l.workspace_id = ${workspaceId}::uuid and l.archived_at is null
      union all
      select f.individual_id, f."on" from feeding f where f.workspace_id = ${workspaceId}::uuid
    ) x where x.individual_id = any(${[...individualIds]}::uuid[]) and x."on" >= ${since}::date
    group by x.individual_id`
  return new Map(rows.map(({ individualId, days }) => [individualId, days]))
}

function conditionsOf({ individualIds, asOf }: AskedLooks): Prisma.Sql {
  const conditions = [
    individualIds && Prisma.sql`and x.individual_id = any(${[...individualIds]}::uuid[])`,
    asOf && Prisma.sql`and x."on" <= ${asOf}::date`,
  ].filter((condition) => condition instanceof Prisma.Sql)
  return conditions.length > 0 ? Prisma.join(conditions, ' ') : Prisma.empty
}

export type NewLook = {
  id: string
  on: PlainDate
  wingBuds?: boolean
  refusesFood?: boolean
  round?: string
  by: string | null
}

/** What an earlier look of that day showed stays seen. */
export async function openLooks(tx: Tx, workspaceId: WorkspaceId, looks: readonly NewLook[]): Promise<void> {
  await tx.$executeRaw`
    insert into look (workspace_id, individual_id, "on", moult_round_id, looked_by, wing_buds, refuses_food)
    select ${workspaceId}::uuid, l.id, l."on"::date, l.round, l."by", coalesce(l."wingBuds", false),
      coalesce(l."refusesFood", false)
    from jsonb_to_recordset(${JSON.stringify(looks)}::jsonb) as l(id uuid, "on" text, round uuid, "by" uuid,
      "wingBuds" boolean, "refusesFood" boolean)
    on conflict (workspace_id, individual_id, "on") where archived_at is null and moult_id is null
    do update set wing_buds = look.wing_buds or excluded.wing_buds,
      refuses_food = look.refuses_food or excluded.refuses_food
    where (excluded.wing_buds and not look.wing_buds) or (excluded.refuses_food and not look.refuses_food)`
}

/** @throws AppError invalid: an adult has wings, and no buds */
export function refuseWinged(
  { adultSinceOn, label }: IndividualRow,
  { on, today }: { on: PlainDate; today: PlainDate },
): void {
  if (adultSinceOn !== null && on >= adultSinceOn)
    throw refuseField(
      'on',
      `${formatCode(label)} is adult since ${writeDay(adultSinceOn, today)}: it has wings, no buds.`,
    )
}

/** Recorded all the same: the profile may be wrong, or a moult was missed. */
export function listEarlyBuds(
  animals: readonly IndividualRow[],
  { profiles, on }: { profiles: ReadonlyMap<string, SpeciesWithProfile>; on: PlainDate },
): Warning[] {
  return animals.flatMap((animal) => {
    const profile = profiles.get(animal.speciesId)?.profile
    const moults = moultsOf(recordAsOf(animal, on))
    if (!profile || isLastPossible(profile, { sex: animal.sex, moults })) return []
    const message =
      `${formatCode(animal.label)}: recorded. By the care profile it is not in its last instar yet: ` +
      'perhaps a moult was missed.'
    return [{ code: 'early-wing-buds', message }]
  })
}

function isLastPossible(profile: CareProfile, { sex, moults }: { sex: Sex; moults: number }): boolean {
  return openCourses(profile, { sex, moults }).some(({ totalMoults }) => totalMoults === moults + 1)
}
