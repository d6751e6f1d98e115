import type { PlainDate } from '@/lib/domain/calendar/date'
import {
  type GroupCourse,
  hasUnexpectedLosses,
  type LearnedLosses,
  learnLossScales,
  lossScaleOf,
} from '@/lib/domain/separation/loss-scale'
import { historyOfZoneStays, type Stay, type ZonesById } from '@/lib/domain/zone/history'
import type { SpeciesWithProfile } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** What the courses are worked out against, as it is known on a day. */
export type LossGround = {
  species: ReadonlyMap<string, SpeciesWithProfile>
  zones: ZonesById
  today: PlainDate
}

/** The newest clutches say how it goes here now; a hundred would say the same and cost five times as much. */
const CLUTCHES_LEARNED_FROM = 24
const CLUTCHES_TOGETHER = 60

type CourseRow = {
  clutchId: string
  speciesId: string
  hatchedOn: PlainDate
  isSettled: boolean
  stays: Stay[]
  changes: { on: PlainDate; change: number; vanished: number }[]
}

/** The factors by species, and the clutches still together that have lost more than their kind does here. */
export type OwnLosses = LearnedLosses & { unexpected: ReadonlySet<string> }

/** How this workspace's own clutches fared, against what their care profiles expect. One statement. */
export async function loadOwnLosses(
  tx: Tx,
  workspaceId: WorkspaceId,
  ground: LossGround,
): Promise<OwnLosses> {
  const courses = await listGroupCourses(tx, workspaceId, ground)
  const learned = learnLossScales(courses, ground.today)
  const unexpected = courses
    .filter(({ isSettled }) => !isSettled)
    .filter((course) =>
      hasUnexpectedLosses(course, lossScaleOf(learned, course.speciesId).scale, ground.today),
    )
  return { ...learned, unexpected: new Set(unexpected.map(({ clutchId }) => clutchId)) }
}

/** The newest clutches whose story is over, and those still together, day by day: who joined, left, vanished. */
async function listGroupCourses(
  tx: Tx,
  workspaceId: WorkspaceId,
  { species, zones, today }: LossGround,
): Promise<GroupCourse[]> {
  const rows = await tx.$queryRaw<CourseRow[]>`
    with counted as (
      select c.id, c.species_id, c.hatched_on, n.together = 0 as settled
      from clutch c join head_count n on n.workspace_id = c.workspace_id and n.clutch_id = c.id
      where c.workspace_id = ${workspaceId}::uuid and c.hatched_on <= ${today}::date
        and (n.together > 1 or (c.counted and n.hatched > 1 and n.together = 0))
    ), newest as (
      select c.*, row_number() over (partition by settled order by hatched_on desc, id desc) as place from counted c
    )
    select c.id as "clutchId", c.species_id as "speciesId", c.hatched_on::text as "hatchedOn",
      c.settled as "isSettled",
      (select coalesce(json_agg(json_build_object('zoneId', s.zone_id, 'from', s.from_on, 'until', s.until_on)
          order by s.from_on), '[]')
        from clutch_housing s where s.workspace_id = ${workspaceId}::uuid and s.clutch_id = c.id) as stays,
      (select coalesce(json_agg(json_build_object('on', d."on", 'change', d.change, 'vanished', d.vanished)
          order by d."on"), '[]')
        from (
          select x."on",
            sum(case when x."to" = 'together' then x.count when x."from" = 'together' then -x.count else 0 end)::int
              as change,
            sum(case when x."from" = 'together' and (x."to" = 'unaccounted' or x.cause = 'eaten_by_sibling')
              then x.count else 0 end)::int as vanished
          from head_count_entry x
          left join head_count_entry r on r.workspace_id = x.workspace_id and r.reverses = x.id
          where x.workspace_id = ${workspaceId}::uuid and x.clutch_id = c.id and x."on" <= ${today}::date
            and x.reverses is null and r.id is null
          group by x."on"
        ) d) as changes
    from newest c
    where c.place <= case when c.settled then ${CLUTCHES_LEARNED_FROM}::int else ${CLUTCHES_TOGETHER}::int end`
  return rows.flatMap(({ stays, ...row }) => {
    const profile = species.get(row.speciesId)?.profile
    if (!profile) return []
    // As of an earlier day some who have left by now were still together.
    const isSettled = row.isSettled && row.changes.reduce((sum, { change }) => sum + change, 0) === 0
    return [{ ...row, isSettled, profile, history: historyOfZoneStays(stays, zones) }]
  })
}
