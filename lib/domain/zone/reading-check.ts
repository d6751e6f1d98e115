import { dateOfDay } from '../calendar/date'
import type { ZoneSetPoint } from './history'
import { sayUnitSlip, unitSlip } from './temperature-unit'

/** What a thermometer said, at an instant in milliseconds since 1970. */
export type NewReading = {
  atMs: number
  temperatureC: number
  humidityPct?: number | null
  /** Somebody was asked whether it was read in the other unit, and said that it stands. */
  isSure?: boolean
}

/** What cannot be right about the reading at a position of a list, at which of its fields. */
export type ReadingProblem = { index: number; field: 'at' | 'temperatureC' | 'humidityPct'; message: string }

export const READING_RANGE_C = { lowest: -40, highest: 70 }
/** A clock may be a little fast; a date may not be wrong. */
const AHEAD_MS = 10 * 60_000
const EARLIEST_MS = 946_684_800_000
const DAY_MS = 86_400_000
const MOST_PROBLEMS = 50

type Known = { nowMs: number; setPoints: readonly ZoneSetPoint[] }

/** Everything about a list of readings that cannot be right, in its order; at most fifty. Oldest first is asked for. */
export function checkReadings(readings: readonly NewReading[], known: Known): ReadingProblem[] {
  const problems: ReadingProblem[] = []
  const place = (index: number, field: ReadingProblem['field'], message: string | null) => {
    if (message !== null) problems.push({ index, field, message })
  }
  readings.forEach((reading, index) => {
    if (problems.length >= MOST_PROBLEMS) return
    place(index, 'at', timeProblem(reading.atMs, known.nowMs) ?? orderProblem(readings, index))
    place(index, 'temperatureC', temperatureProblem(reading, known.setPoints))
    place(index, 'humidityPct', humidityProblem(reading.humidityPct))
  })
  return problems.slice(0, MOST_PROBLEMS)
}

function timeProblem(atMs: number, nowMs: number): string | null {
  if (!Number.isFinite(atMs)) return 'is no time.'
  if (atMs > nowMs + AHEAD_MS) return 'lies in the future.'
  return atMs < EARLIEST_MS ? 'lies before the year 2000.' : null
}

function orderProblem(readings: readonly NewReading[], index: number): string | null {
  const before = readings[index - 1]?.atMs
  const atMs = readings[index]?.atMs ?? 0
  if (before === undefined || atMs > before) return null
  return atMs === before
    ? 'is the same time as the reading before it.'
    : 'is earlier than the reading before it: send them oldest first.'
}

function temperatureProblem(
  { temperatureC, atMs, isSure = false }: NewReading,
  setPoints: readonly ZoneSetPoint[],
): string | null {
  const { lowest, highest } = READING_RANGE_C
  const slip = isSure ? null : unitSlip(temperatureC, 'celsius', setOnDayOf(atMs, setPoints))
  if (slip) return `${sayUnitSlip(slip)} Send isSure with it if it stands.`
  return temperatureC >= lowest && temperatureC <= highest
    ? null
    : `A thermometer in a zone shows between ${lowest} and ${highest} °C.`.replace('-', '−')
}

function humidityProblem(humidityPct: number | null | undefined): string | null {
  if (humidityPct === null || humidityPct === undefined) return null
  return humidityPct >= 0 && humidityPct <= 100 ? null : 'Humidity is between 0 and 100 %.'
}

/** What the zone was set to about then; the day in UTC is near enough to ask by. */
function setOnDayOf(atMs: number, setPoints: readonly ZoneSetPoint[]): number | null {
  if (!Number.isFinite(atMs) || Math.abs(atMs) > 2e14) return null
  const on = dateOfDay(Math.floor(atMs / DAY_MS))
  return (setPoints.findLast(({ from }) => from <= on) ?? setPoints[0])?.dayC ?? null
}
