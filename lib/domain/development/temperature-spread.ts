import { dayNumber, type PlainDate } from '../calendar/date'
import type { TemperatureHistory, TemperatureSegment } from './clock'
import { FUTURE_TEMPERATURE_SD_C } from './parameters'

/** Blocks of two weeks: about as far as most windows reach. */
const BLOCK_DAYS = 14
const FEWEST_BLOCKS = 5
const MOST_BLOCKS = 26
const LEAST_SD_C = 0.3
const MOST_SD_C = 4
const PRIOR_BLOCKS = 3

/** Mean temperature between two day numbers, day and night counted alike. O(n). */
export function meanTemperatureC(history: TemperatureHistory, fromDay: number, untilDay: number): number {
  const sorted = [...history].sort((a, b) => dayNumber(a.from) - dayNumber(b.from))
  let sum = 0
  sorted.forEach((segment, index) => {
    const begins = index === 0 ? fromDay : Math.max(fromDay, dayNumber(segment.from))
    const next = sorted[index + 1]
    const ends = next ? Math.min(untilDay, dayNumber(next.from)) : untilDay
    if (ends > begins) sum += (ends - begins) * averageC(segment)
  })
  return sum / Math.max(1, untilDay - fromDay)
}

/**
 * How far a zone strays over two weeks from what it is expected to be, from its own past: standard deviation
 * of fortnightly means, leaning on the default while there are few. Null history or one steady setting say
 * nothing, so the default stays.
 */
export function temperatureSpreadC(history: TemperatureHistory, today: PlainDate): number {
  const until = dayNumber(today)
  const past = history.filter((segment) => dayNumber(segment.from) <= until)
  const first = Math.min(...past.map((segment) => dayNumber(segment.from)))
  const count = Math.min(MOST_BLOCKS, Math.floor((until - first) / BLOCK_DAYS))
  if (!(count >= FEWEST_BLOCKS) || past.length < 2 * count) return FUTURE_TEMPERATURE_SD_C
  const means = Array.from({ length: count }, (_, index) =>
    meanTemperatureC(past, until - (index + 1) * BLOCK_DAYS, until - index * BLOCK_DAYS),
  )
  const mean = means.reduce((sum, one) => sum + one, 0) / count
  const squares = means.reduce((sum, one) => sum + (one - mean) ** 2, 0)
  const variance = (squares + PRIOR_BLOCKS * FUTURE_TEMPERATURE_SD_C ** 2) / (count - 1 + PRIOR_BLOCKS)
  return Math.min(MOST_SD_C, Math.max(LEAST_SD_C, Math.sqrt(variance)))
}

function averageC({ dayC, nightC }: TemperatureSegment): number {
  return nightC === undefined ? dayC : (dayC + nightC) / 2
}
