import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import { emergenceCurve, pupaeCurve } from '../culture/emergence'
import { roundFlies } from '../culture/shelf'
import type { PreyLine } from '../prey/line'
import type { DemandWeek, LineWeek } from './weekly'

/** Where items of a line come from in a week; in stock is also what was left over from the week before. */
export type SupplyWeek = { stock: number; jars: number; suspect: number; ordered: number; planned: number }

export type OutlookWeek = { from: PlainDate; need: LineWeek; supply: SupplyWeek; short: number }
export type LineOutlook = {
  line: string
  name: string
  weeks: OutlookWeek[]
  words: string
  isShort: boolean
}

export type SupplyGround = {
  today: PlainDate
  weeks: number
  lines: readonly PreyLine[]
  stock: ReadonlyMap<string, number>
  /** Expected flies of each day from today on. */
  jars: readonly { line: string; ahead: readonly number[]; isSuspect: boolean }[]
  orders: readonly { line: string; on: PlainDate; count: number }[]
  planned: readonly { line: string; on: PlainDate; count: number }[]
  temperatureOf: (line: string) => number
  /** Mean yield of a culture of the line, as learned. */
  meanOf: (line: string) => number
}

/** Each line's weeks: what it is needed for and where it comes from, with the first shortage in words. */
export function outlookByLine(demand: readonly DemandWeek[], ground: SupplyGround): LineOutlook[] {
  return ground.lines.flatMap((line): LineOutlook[] => {
    const supply = supplyOf(line, ground)
    const lasting = lastingShare(line)
    let left = 0
    const weeks = demand.map(({ from, lines }, week): OutlookWeek => {
      const need = lines.find((each) => each.line === line.id) ?? nothing(line.id)
      const comes = supply[week] ?? { stock: 0, jars: 0, suspect: 0, ordered: 0, planned: 0 }
      const given = { ...comes, stock: comes.stock + left }
      left = lasting * Math.max(0, sumOf(given) - need.mean)
      return { from, need, supply: given, short: Math.max(0, need.mean - sumOf(given)) }
    })
    const isUsed = weeks.some(({ need, supply: given }) => need.mean > 1 || sumOf(given) > 1)
    if (!isUsed) return []
    const { words, isShort } = sayOutlook(line, weeks, ground.today)
    return [{ line: line.id, name: line.name, weeks, words, isShort }]
  })
}

/** Of what nobody ate in a week, the share that is still good in the next one. */
function lastingShare({ supply }: PreyLine): number {
  if (supply.kind === 'bought' && supply.keepDays.value < 7) return 0
  return (1 - supply.dailyDeathRate.value) ** 7
}

const nothing = (line: string): LineWeek => ({ line, mean: 0, sd: 0, p10: 0, p90: 0, byStage: [] })

export function sumOf({ stock, jars, suspect, ordered, planned }: SupplyWeek): number {
  return stock + jars + suspect + ordered + planned
}

const CURVE_DAYS = 90

function supplyOf(line: PreyLine, ground: SupplyGround): SupplyWeek[] {
  const { today, weeks } = ground
  const rows = Array.from(
    { length: weeks },
    (): SupplyWeek => ({ stock: 0, jars: 0, suspect: 0, ordered: 0, planned: 0 }),
  )
  const put = (source: keyof SupplyWeek, day: number, count: number) => {
    const row = rows[Math.floor(day / 7)]
    if (row && day >= 0) row[source] += count
  }
  put('stock', 0, ground.stock.get(line.id) ?? 0)
  for (const jar of ground.jars)
    if (jar.line === line.id)
      jar.ahead.forEach((flies, day) => {
        put(jar.isSuspect ? 'suspect' : 'jars', day, flies)
      })
  const curve = curveOfArrival(line, ground)
  for (const source of ['orders', 'planned'] as const)
    for (const { line: id, on, count } of ground[source]) {
      if (id !== line.id) continue
      const begins = daysBetween(today, on)
      curve.forEach((share, day) => {
        put(source === 'orders' ? 'ordered' : 'planned', begins + day, share * count)
      })
    }
  return rows
}

/** Per culture started, or per item that arrives. */
function curveOfArrival({ id, supply }: PreyLine, ground: SupplyGround): number[] {
  const temperatureC = ground.temperatureOf(id)
  if (supply.kind === 'bought') return [1]
  if (supply.kind === 'pupae')
    return pupaeCurve(supply, { temperatureC, days: 28 }).map((share) => share * supply.emergingShare.value)
  const curve = emergenceCurve(supply.curve.value, { temperatureC, days: CURVE_DAYS })
  return curve.slice(0, supply.discardAfterDays.value).map((share) => share * ground.meanOf(id))
}

/** Below this a week is not called short: records are no better. */
const SHORT_SHARE = 0.08

function sayOutlook(
  { name }: PreyLine,
  weeks: readonly OutlookWeek[],
  today: PlainDate,
): { words: string; isShort: boolean } {
  const short = weeks.filter(({ short: items, need }) => items > Math.max(3, SHORT_SHARE * need.mean))
  const [first] = short
  if (first) {
    const count = roundFlies(first.short)
    const more = short.length > 1 ? `, and in ${short.length - 1} of the weeks after it` : ''
    return {
      words: `Short by about ${count} in the week of ${writeDay(first.from, today)}${more}.`,
      isShort: true,
    }
  }
  const tight = weeks.find(({ need, supply }) => need.p90 > sumOf(supply) && need.mean > 3)
  if (tight)
    return {
      words: `Enough if all goes as expected; tight in the week of ${writeDay(tight.from, today)}.`,
      isShort: false,
    }
  const last = weeks.at(-1)
  const until = last ? writeDay(addDays(last.from, 6), today) : ''
  return { words: `${name}: enough until ${until}.`, isShort: false }
}
