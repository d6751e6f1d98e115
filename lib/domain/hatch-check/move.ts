import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import type { TemperatureHistory } from '../development/clock'
import { overlayHistory } from '../development/temperature-history'
import { forecastHatch, type HatchInput } from '../hatch/forecast'

/** A place it could hang in from a day on. */
export type MovePlace = { id: string; name: string; history: TemperatureHistory }
export type HatchMove = { zoneId: string; name: string; on: PlainDate; hatchOn: PlainDate }

const MOST_DAYS_AHEAD = 56
const DAY_STEP = 2
const NEAR_DAYS = 4

/**
 * When to hang an egg case where, so that it hatches about a day: into a cooler zone now, or out of it later. Null
 * where no zone that its species stands brings the most likely day within a few days of it.
 */
export function moveForHatch(
  input: HatchInput,
  wish: { on: PlainDate; zones: readonly MovePlace[] },
): HatchMove | null {
  const { min, max } = input.profile.keeping.dayC.value
  let best: { move: HatchMove; off: number } | null = null
  for (const { id, name, history } of wish.zones) {
    const warmth = history.at(-1)?.dayC
    if (warmth === undefined || warmth < min - 4 || warmth > max) continue
    for (let days = 0; days <= MOST_DAYS_AHEAD; days += DAY_STEP) {
      const on = addDays(input.today, days)
      const stay = { ...history.at(-1)!, from: on, until: null }
      const forecast = forecastHatch({ ...input, history: overlayHistory(input.history, stay) })
      if (forecast.status !== 'forecast' || forecast.p10 <= on) continue
      const off = Math.abs(daysBetween(forecast.p50, wish.on))
      if (off <= NEAR_DAYS && (!best || off < best.off))
        best = { move: { zoneId: id, name, on, hatchOn: forecast.p50 }, off }
    }
  }
  return best?.move ?? null
}
