import { addDays, daysBetween, minDate, type PlainDate } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import type { DayTask } from '../day-sheet/task'
import type { FoodPlanWeek } from './plan-week'

/** What is left of a plan to be done now, after what was done since. */
export type FoodTaskGround = {
  today: PlainDate
  weeks: readonly FoodPlanWeek[]
  nameOf: (line: string) => string
  /** Since the plan was made. */
  started: readonly { line: string; on: PlainDate }[]
  ordered: readonly { line: string; on: PlainDate; packs: number }[]
  /** Jars that stand past their time. */
  past: readonly { id: string; label: string; line: string; since: PlainDate }[]
}

/** How far ahead a start or an order is named. */
const AHEAD_DAYS = 1
/** After this a start missed is answered by the next plan. */
const BEHIND_DAYS = 6

/** Starts, orders and discards as tasks of the day. What was done counts against the earliest one of its line. */
export function foodTasks(ground: FoodTaskGround): DayTask[] {
  const starts = leftOver(
    ground.weeks.flatMap(({ starts: all, reasons }) => all.map((each) => ({ ...each, reasons }))),
    ground.started.map(({ line, on }) => ({ line, on, count: 1 })),
  )
  const orders = leftOver(
    ground.weeks.flatMap(({ purchases, reasons }) =>
      purchases.map(({ line, packs, orderOn }) => ({ line, count: packs, on: orderOn, reasons })),
    ),
    ground.ordered.map(({ line, on, packs }) => ({ line, on, count: packs })),
  )
  return [
    ...starts.filter((each) => isNow(each, ground.today)).map((each) => startTask(each, ground)),
    ...orders.filter((each) => isNow(each, ground.today)).map((each) => orderTask(each, ground)),
    ...discardTask(ground),
  ]
}

type Asked = { line: string; count: number; on: PlainDate; reasons: readonly string[] }
type Done = { line: string; count: number; on: PlainDate }

/** What of it is left when what was done counts against the earliest of its line. */
export function leftOver<Each extends Done>(asked: readonly Each[], done: readonly Done[]): Each[] {
  const left = new Map<string, number>()
  for (const { line, count } of done) left.set(line, (left.get(line) ?? 0) + count)
  return [...asked]
    .sort((a, b) => (a.on < b.on ? -1 : 1))
    .flatMap((each) => {
      const used = Math.min(each.count, left.get(each.line) ?? 0)
      left.set(each.line, (left.get(each.line) ?? 0) - used)
      return used < each.count ? [{ ...each, count: each.count - used }] : []
    })
}

function isNow({ on }: Asked, today: PlainDate): boolean {
  return on <= addDays(today, AHEAD_DAYS) && daysBetween(on, today) <= BEHIND_DAYS
}

function stateOn(on: PlainDate, today: PlainDate): DayTask['state'] {
  if (on < today) return 'late'
  return on === today ? 'due' : 'fine'
}

/** The plan's own sentence for this line, without its beginning. */
function reasonOf({ reasons, line }: Asked, nameOf: (line: string) => string): string {
  const own = reasons.find((reason) => reason.includes(nameOf(line)) || reason.includes(line))
  const why = own?.split(': ').slice(1).join(': ') ?? ''
  return why === '' ? 'The plan asks for it.' : `${why.charAt(0).toUpperCase()}${why.slice(1)}`
}

function startTask(asked: Asked, { today, nameOf }: FoodTaskGround): DayTask {
  const { line, count, on } = asked
  return {
    kind: 'start-cultures',
    state: stateOn(on, today),
    title: `Start ${writeCount(count, 'jar')} of ${nameOf(line)}${on === today ? '' : `, ${writeDay(on, today)}`}`,
    scientificName: null,
    why: reasonOf(asked, nameOf),
    subject: { type: 'prey-line', id: line, count },
    costPerDay: 0,
  }
}

function orderTask(asked: Asked, { today, nameOf }: FoodTaskGround): DayTask {
  const { line, count, on } = asked
  return {
    kind: 'order-prey',
    state: stateOn(on, today),
    title: `Order ${writeCount(count, 'pack')} of ${nameOf(line)}${on === today ? '' : `, ${writeDay(on, today)}`}`,
    scientificName: null,
    why: reasonOf(asked, nameOf),
    subject: { type: 'prey-line', id: line, count },
    costPerDay: 0,
  }
}

function discardTask({ past, today }: FoodTaskGround): DayTask[] {
  const [first] = past
  if (!first) return []
  const labels = past.slice(0, 6).map(({ label }) => label)
  const rest = past.length > labels.length ? ` and ${past.length - labels.length} more` : ''
  const oldest = past.reduce((since, jar) => minDate(jar.since, since), first.since)
  return [
    {
      kind: 'discard-cultures',
      state: 'due',
      title: `Discard ${writeCount(past.length, 'jar')}`,
      scientificName: null,
      why: `${labels.join(', ')}${rest}: past their time, the oldest since ${writeDay(oldest, today)}. Mites come with age; freeze for 48 hours before binning.`,
      subject: { type: 'cultures', ids: past.map(({ id }) => id) },
      costPerDay: 0,
    },
  ]
}
