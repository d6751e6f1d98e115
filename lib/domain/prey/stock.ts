import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import type { PreyLine } from './line'

/** What happened to the stock of one line: counted, come in, gone out. */
export type StockEntry = {
  on: PlainDate
  kind: 'count' | 'in' | 'out'
  items: number
}

/** How long a count of flies says anything: they live in a cup for days. */
const LONGEST_DAYS = 45

/**
 * Items of a line that stand there today, expected: the last count and what came since, each day fewer by those that
 * die, less what left. Without a count, what came within `keepDays` stands. Entries of one day: a count is of its end.
 */
export function expectedStock(
  entries: readonly StockEntry[],
  line: { dailyDeathRate: number; keepDays: number },
  today: PlainDate,
): number {
  const past = entries.filter(({ on }) => on <= today)
  const counted = past
    .filter(({ kind }) => kind === 'count')
    .reduce<StockEntry | null>((last, each) => (last === null || each.on >= last.on ? each : last), null)
  const earliest = addDays(today, -Math.min(LONGEST_DAYS, Math.max(1, line.keepDays)))
  const from = counted && counted.on > earliest ? counted.on : earliest
  let stock = counted && counted.on >= earliest ? counted.items : 0
  for (let day = counted && counted.on >= earliest ? 1 : 0; day <= daysBetween(from, today); day += 1) {
    const on = addDays(from, day)
    stock *= 1 - line.dailyDeathRate
    for (const entry of past) {
      if (entry.on !== on) continue
      if (entry.kind === 'in') stock += entry.items
      if (entry.kind === 'out') stock = Math.max(0, stock - entry.items)
    }
  }
  return stock
}

/** Flies live in a cup for some days; what is bought, as long as it keeps. */
const FLY_DAYS = 7

/**
 * What stands of a line today. Arrivals count for what is bought by size only: pupae on their way to being flies are
 * deliveries, and flies out of jars are fed as they are taken.
 */
export function stockOfLine(
  line: PreyLine,
  entries: readonly (StockEntry & { line: string })[],
  today: PlainDate,
): number {
  const { supply } = line
  const isBought = supply.kind === 'bought'
  const own = entries.filter((entry) => entry.line === line.id && (isBought || entry.kind !== 'in'))
  const keepDays = isBought ? supply.keepDays.value : FLY_DAYS
  return expectedStock(own, { dailyDeathRate: supply.dailyDeathRate.value, keepDays }, today)
}

/** What fed whom, by the words somebody wrote: the line named by its slug or its name. */
export function lineOfWords(words: string, lines: readonly PreyLine[]): string | null {
  const said = words.trim().toLowerCase()
  return lines.find(({ id, name }) => said === id || said === name.toLowerCase())?.id ?? null
}
