import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { FoodPlanWeek } from '@/lib/domain/food-plan/plan-week'
import type { PreyLine } from '@/lib/domain/prey/line'
import { lineOfWords, type StockEntry, stockOfLine } from '@/lib/domain/prey/stock'
import type { Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type PreyOrderRow = {
  id: string
  line: string
  packs: number
  packSize: number
  orderedOn: PlainDate
  dueOn: PlainDate
  arrivedOn: PlainDate | null
  version: number
}
export type MouthRow = {
  id: string
  name: string
  line: string
  itemsEachTime: number
  weekdays: number[]
  from: PlainDate | null
  until: PlainDate | null
  version: number
}
export type FoodLimitsRow = {
  shelfPlaces: number | null
  minutesPerStartDay: number | null
  startWeekdays: number[]
  serviceLevel: number
  version: number
}
export type ClosedDayRow = { side: 'room' | 'supplier'; on: PlainDate; note: string }
/** What the plan in force asks for, by week. */
export type PlannedFood = { madeOn: PlainDate; weeks: Pick<FoodPlanWeek, 'starts' | 'purchases'>[] }
export type FoodRoom = {
  orders: PreyOrderRow[]
  entries: (StockEntry & { line: string })[]
  feedings: { words: string; on: PlainDate; animals: number }[]
  mouths: MouthRow[]
  limits: FoodLimitsRow
  closedDays: ClosedDayRow[]
  planned: PlannedFood | null
}

/** Saturdays, until somebody says otherwise. */
const USUAL_LIMITS: FoodLimitsRow = {
  shelfPlaces: null,
  minutesPerStartDay: null,
  startWeekdays: [6],
  serviceLevel: 0.95,
  version: 0,
}

type Told = Omit<FoodRoom, 'limits'> & { limits: FoodLimitsRow | null }

/** What is on order and in stock, who else eats, and what bounds the planning: one statement. */
export async function loadFoodRoom(
  tx: Tx,
  workspaceId: WorkspaceId,
  { today }: { today: PlainDate },
): Promise<FoodRoom> {
  const since = addDays(today, -60)
  const rows = await tx.$queryRaw<{ told: Told }[]>`
    select json_build_object(
      'orders', (select coalesce(json_agg(json_build_object('id', o.id, 'line', o.slug, 'packs', o.packs,
          'packSize', o.pack_size, 'orderedOn', o.ordered_on, 'dueOn', o.due_on, 'arrivedOn', o.arrived_on,
          'version', o.version) order by o.due_on, o.id), '[]')
        from prey_order o where o.workspace_id = ${workspaceId}::uuid and o.cancelled_on is null
          and (o.arrived_on is null or o.arrived_on >= ${since}::date)),
      'entries', (select coalesce(json_agg(json_build_object('line', e.slug, 'on', e."on", 'kind', e.kind,
          'items', e.items) order by e."on", e.kind), '[]')
        from (
          select c.slug, c."on", 'count' as kind, c.count as items from prey_count c
            where c.workspace_id = ${workspaceId}::uuid and c."on" >= ${since}::date
          union all select d.slug, d."on", 'out', d.count from prey_departure d
            where d.workspace_id = ${workspaceId}::uuid and d."on" >= ${since}::date
          union all select o.slug, o.arrived_on, 'in', o.packs * o.pack_size from prey_order o
            where o.workspace_id = ${workspaceId}::uuid and o.arrived_on >= ${since}::date
        ) e),
      'feedings', (select coalesce(json_agg(json_build_object('words', f.prey, 'on', f."on", 'animals', f.animals)),
          '[]')
        from (select x.prey, x."on", count(*)::int as animals from feeding x
          where x.workspace_id = ${workspaceId}::uuid and x.ate and x.prey <> '' and x."on" >= ${since}::date
          group by x.prey, x."on") f),
      'mouths', (select coalesce(json_agg(json_build_object('id', m.id, 'name', m.name, 'line', m.slug,
          'itemsEachTime', m.items_each_time, 'weekdays', m.weekdays, 'from', m.from_on, 'until', m.until_on,
          'version', m.version) order by m.name, m.id), '[]')
        from other_mouth m where m.workspace_id = ${workspaceId}::uuid and m.archived_at is null),
      'limits', (select json_build_object('shelfPlaces', l.shelf_places, 'minutesPerStartDay',
          l.minutes_per_start_day, 'startWeekdays', l.start_weekdays, 'serviceLevel', l.service_level,
          'version', l.version)
        from food_limits l where l.workspace_id = ${workspaceId}::uuid),
      'closedDays', (select coalesce(json_agg(json_build_object('side', c.side, 'on', c."on", 'note', c.note)
          order by c."on", c.side), '[]')
        from food_closed_day c where c.workspace_id = ${workspaceId}::uuid and c.closed
          and c."on" >= ${today}::date - 7),
      'planned', (select json_build_object('madeOn', p.created_at::date, 'weeks', p.answer->'weeks')
        from food_plan p where p.workspace_id = ${workspaceId}::uuid and not p.is_trial and p.state = 'done'
        order by p.id desc limit 1)) as told`
  const told = rows[0]?.told
  invariant(told, 'one row of one object')
  return { ...told, limits: told.limits ?? USUAL_LIMITS }
}

/** Items of each line that stand there today; of what is bought, one an animal for each feeding that names it. */
export function stockByLine(
  { entries, feedings }: Pick<FoodRoom, 'entries' | 'feedings'>,
  lines: readonly PreyLine[],
  today: PlainDate,
): Map<string, number> {
  const bought = lines.filter(({ supply }) => supply.kind === 'bought')
  const eaten = feedings.flatMap(({ words, on, animals }) => {
    const line = lineOfWords(words, bought)
    return line ? [{ line, on, kind: 'out' as const, items: animals }] : []
  })
  const all = [...entries, ...eaten]
  return new Map(lines.map((line) => [line.id, stockOfLine(line, all, today)]))
}

/** The day on which flies of each line were last counted: what was in its jars then is in that count. */
export function lastCountByLine({ entries }: Pick<FoodRoom, 'entries'>): Map<string, PlainDate> {
  const counts = entries.filter(({ kind }) => kind === 'count').sort((a, b) => (a.on < b.on ? -1 : 1))
  return new Map(counts.map(({ line, on }) => [line, on]))
}
