import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import { Z_OF_90 } from '../probability/normal'
import type { RoomForecast } from './forecast'
import { type Moments, type RoomParts, stagesOf } from './moments'
import { STAGES } from './part-play'

/** An expected number with its spread: 10 to 90 %. */
export type Spread = { expected: number; sd: number; low: number; high: number }

/** A week of the room; every figure is the mean of its days. */
export type RoomWeek = {
  week: PlainDate
  until: PlainDate
  living: Spread
  /** Nymphs and adults old enough to be sold. */
  ofSaleAge: Spread
  /** Of those that stand here already. */
  adults: number
  grownNymphs: number
  young: number
  /** Still in their egg cases today. */
  toHatch: number
}

export type SpeciesWeeks = { speciesId: string; weeks: RoomWeek[] }

/** One line of the table: a stage of a species and sex, week by week. */
export type StageWeeks = {
  speciesId: string
  sex: Sex
  moults: number | null
  byWeek: Spread[]
}

export type WeekSpan = { from: PlainDate; weeks: number }

export function stageWeeks(forecast: RoomForecast, span: WeekSpan): StageWeeks[] {
  const days = daysOf(forecast, span)
  return forecast.series.map(({ speciesId, sex, moults, ...moments }) => ({
    speciesId,
    sex,
    moults,
    byWeek: days.map((week) => spreadOf(moments, week)),
  }))
}

/** Each species by week. `saleFromMoults`: the stage from which it is usually sold. */
export function speciesWeeks(
  forecast: RoomForecast,
  species: readonly { id: string; saleFromMoults: number }[],
  span: WeekSpan,
): SpeciesWeeks[] {
  const here: RoomParts = new Map([...forecast.parts].filter(([key]) => !key.endsWith('|egg cases')))
  const all = daysOf(forecast, span)
  return forecast.totals.flatMap((total) => {
    const known = species.find(({ id }) => id === total.speciesId)
    if (!known) return []
    const stages = Array.from({ length: STAGES - 1 }, (_, moults) => moults)
    const grown = stages.filter((moults) => moults >= known.saleFromMoults)
    const of = (parts: RoomParts, some: readonly (number | null)[]) =>
      stagesOf(parts, { speciesId: known.id, stages: some, days: forecast.days.length })
    const rows = {
      ofSaleAge: of(forecast.parts, [...grown, null]),
      adults: of(here, [null]),
      grownNymphs: of(here, grown),
      young: of(here, stages.slice(0, known.saleFromMoults)),
    }
    return [
      {
        speciesId: known.id,
        weeks: all.map((days, index): RoomWeek => {
          const week = addDays(span.from, 7 * index)
          const living = spreadOf(total, days)
          const [adults, grownNymphs, young] = [rows.adults, rows.grownNymphs, rows.young].map(
            (row) => spreadOf(row, days).expected,
          ) as [number, number, number]
          const toHatch = Math.max(0, living.expected - adults - grownNymphs - young)
          const ofSaleAge = spreadOf(rows.ofSaleAge, days)
          return { week, until: addDays(week, 6), living, ofSaleAge, adults, grownNymphs, young, toHatch }
        }),
      },
    ]
  })
}

/** Species together; what one does says nothing of another. */
export function addSpecies(all: readonly SpeciesWeeks[]): RoomWeek[] {
  const [first] = all
  if (!first) return []
  return first.weeks.map((week, index) => {
    const same = all.map(({ weeks }) => weeks[index]!)
    const sum = (of: (one: RoomWeek) => number) => same.reduce((total, one) => total + of(one), 0)
    const together = (of: (one: RoomWeek) => Spread) =>
      spread(
        sum((one) => of(one).expected),
        sum((one) => of(one).sd ** 2),
      )
    return {
      week: week.week,
      until: week.until,
      living: together(({ living }) => living),
      ofSaleAge: together(({ ofSaleAge }) => ofSaleAge),
      adults: sum(({ adults }) => adults),
      grownNymphs: sum(({ grownNymphs }) => grownNymphs),
      young: sum(({ young }) => young),
      toHatch: sum(({ toHatch }) => toHatch),
    }
  })
}

/** Places in the forecast's days, week by week; a last week that is cut short counts as far as it goes. */
function daysOf(forecast: RoomForecast, { from, weeks }: WeekSpan): number[][] {
  const first = daysBetween(forecast.days[0] ?? from, from)
  return Array.from({ length: weeks }, (_, week) =>
    Array.from({ length: 7 }, (_, day) => first + 7 * week + day).filter(
      (day) => day >= 0 && day < forecast.days.length,
    ),
  )
}

/** The days of a week go up and down together. */
function spreadOf({ mean, variance }: Moments, days: readonly number[]): Spread {
  if (days.length === 0) return spread(0, 0)
  const expected = days.reduce((sum, day) => sum + mean[day]!, 0) / days.length
  const sd = days.reduce((sum, day) => sum + Math.sqrt(Math.max(0, variance[day]!)), 0) / days.length
  return spread(expected, sd ** 2)
}

/** 10 and 90 % of a number with this mean and variance, as a gamma (Wilson and Hilferty's cube root). */
export function spread(expected: number, variance: number): Spread {
  const sd = Math.sqrt(Math.max(0, variance))
  if (expected <= 1e-9 || sd <= 1e-9) return { expected, sd, low: expected, high: expected }
  const shape = (expected / sd) ** 2
  const at = (z: number) => expected * Math.max(0, 1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape))) ** 3
  return { expected, sd, low: Math.min(expected, at(-Z_OF_90)), high: Math.max(expected, at(Z_OF_90)) }
}
