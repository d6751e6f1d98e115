import type { PlainDate } from '../calendar/date'
import { writeCount } from '../calendar/wording'
import type { ZoneSetPoint } from './history'
import { type TemperatureUnit, writeTemperature, writeTemperatureChange } from './temperature-unit'

/** What is known of one measured day, °C. */
export type DayExtent = { on: PlainDate; minC: number; meanC: number; maxC: number }

export type ClimateSummary = {
  /** Days of the stretch, and how many of them somebody read. */
  days: number
  measuredDays: number
  /** Null where nobody read. */
  lowestC: number | null
  highestC: number | null
  /** Mean of measured less set, °C: how far the dial is off. Null where nothing was read or set. */
  strayC: number | null
}

/** The stretch from a day until another, both counted, in five figures. O(days). */
export function summariseClimate(
  measured: readonly DayExtent[],
  setPoints: readonly ZoneSetPoint[],
  { days }: { days: number },
): ClimateSummary {
  if (measured.length === 0) return { days, measuredDays: 0, lowestC: null, highestC: null, strayC: null }
  const strays = measured.flatMap(({ on, meanC }) => {
    const set = setPoints.findLast(({ from }) => from <= on) ?? setPoints[0]
    return set ? [meanC - (set.dayC + (set.nightC ?? set.dayC)) / 2] : []
  })
  return {
    days,
    measuredDays: measured.length,
    lowestC: Math.min(...measured.map(({ minC }) => minC)),
    highestC: Math.max(...measured.map(({ maxC }) => maxC)),
    strayC: strays.length === 0 ? null : strays.reduce((sum, strayC) => sum + strayC, 0) / strays.length,
  }
}

/** A difference smaller than this is what thermometers differ by. */
const FEW_TENTHS_C = 0.3

/** The stretch as a colleague would say it. */
export function sayClimate(summary: ClimateSummary, unit: TemperatureUnit): string {
  const { days, measuredDays, lowestC, highestC, strayC } = summary
  if (lowestC === null || highestC === null)
    return `Nobody read a thermometer in these ${days} days: forecasts take what it is set to.`
  const read = `Read on ${measuredDays} of ${writeCount(days, 'day')}, between ${writeTemperature(lowestC, unit)} and ${writeTemperature(highestC, unit)}.`
  if (strayC === null) return read
  if (Math.abs(strayC) < FEW_TENTHS_C) return `${read} On average it was as it is set.`
  const by = writeTemperatureChange(Math.abs(strayC), unit).replace('+', '')
  return `${read} On average it was ${by} ${strayC > 0 ? 'warmer' : 'colder'} than it is set to.`
}
