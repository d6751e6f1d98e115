import { writeCount, writeDay } from '../calendar/wording'
import type { RoomWeek, Spread } from './weeks'

/** "about 42 (30 to 55)"; a spread of less than one animal is not told. */
export function saySpread({ expected, low, high }: Spread): string {
  const [from, until] = [Math.floor(low + 0.25), Math.ceil(high - 0.25)]
  if (expected < 0.5) return until > 0 ? `probably none (at most ${until})` : 'none'
  return from >= until ? String(Math.round(expected)) : `about ${Math.round(expected)} (${from} to ${until})`
}

/** The same where space is short: "42 (30–55)". */
export function writeSpread({ expected, low, high }: Spread): string {
  const [from, until] = [Math.floor(low + 0.25), Math.ceil(high - 0.25)]
  if (expected < 0.5) return until > 0 ? `0 (0–${until})` : '–'
  return from >= until ? String(Math.round(expected)) : `${Math.round(expected)} (${from}–${until})`
}

/** What will be old enough to sell in so many weeks, against now. Null where the forecast does not reach so far. */
export function saySaleable(weeks: readonly RoomWeek[], ahead: number, today: string): string | null {
  const [now] = weeks
  const then = weeks[ahead]
  if (!now || !then) return null
  const day = writeDay(then.week, today)
  const isNone = then.ofSaleAge.expected < 0.5 && then.ofSaleAge.high < 1
  if (isNone) return `In ${writeCount(ahead, 'week')}, from ${day}, nothing here will be old enough to sell.`
  const before = Math.round(now.ofSaleAge.expected)
  return `In ${writeCount(ahead, 'week')}, from ${day}, ${saySpread(then.ofSaleAge)} will be old enough to sell; now it is ${before}.`
}
