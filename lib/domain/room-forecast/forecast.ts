import { addDays, dayNumber, type PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import { type DevelopmentClock, developmentClock, effectiveDaysAt, thresholdsOf } from '../development/clock'
import { withLearnedThreshold } from '../development/learning'
import { type DailyPart, dailyEggs, dailyPart, type PlaceTime } from './daily'
import { type EggPart, eggPart } from './egg-case'
import { groupRoom } from './grouping'
import { MOST_DAYS, type RoomInput, type RoomSpecies, type RoomZone } from './input'
import { type Moments, type RoomParts, seriesOf, totalsOf } from './moments'
import type { RoomPart } from './part'
import { withoutSales } from './sale'

/** Living animals of one species, sex and stage on each day: expected number and variance. */
export type RoomSeries = {
  speciesId: string
  sex: Sex
  /** Moults since hatch; null for adults. */
  moults: number | null
  mean: number[]
  variance: number[]
}

/** `totals`: all stages of a species. `parts` lets the next forecast keep what has not changed. */
export type RoomForecast = {
  days: PlainDate[]
  series: RoomSeries[]
  totals: ({ speciesId: string } & Moments)[]
  parts: RoomParts
}

/**
 * Who is in the room on each day of up to 52 weeks. Equal states are put together first, so the work depends
 * on the number of different species, zones and sexes, hardly on the number of animals.
 */
export function forecastRoom(input: RoomInput, before?: RoomForecast): RoomForecast {
  const steps = forecastRoomSteps(input, before)
  let step = steps.next()
  while (!step.done) step = steps.next()
  return step.value
}

/** The same, part by part, so that whoever waits for it can do something else in between. */
export function* forecastRoomSteps(
  input: RoomInput,
  before?: RoomForecast,
): Generator<undefined, RoomForecast, undefined> {
  const days = Math.min(MOST_DAYS, Math.max(1, Math.round(input.days)))
  const room = { ...input, days, species: input.species.map(withOwnThreshold) }
  const parts = new Map<string, DailyPart>()
  const times = zoneTimes(room)
  for (const part of groupRoom(room)) {
    const time = times(part.species, part.zone)
    keepOrPlay(parts, { key: part.key, signature: signatureOf(part, room), before }, () =>
      dailyPart(part, time),
    )
    yield
  }
  for (const { time, ...cases } of eggsByPlace(room, times)) {
    const part = eggPart(cases, { today: room.today, days, steps: time.steps, stepOf: time.stepOf })
    keepOrPlay(parts, { key: part.key, signature: signatureOf(part, room), before }, () =>
      dailyEggs(part, time),
    )
    yield
  }
  const dates = Array.from({ length: days }, (_, day) => addDays(room.today, day))
  const all = seriesOf(parts, days)
  const series = withoutSales(all, room, times)
  return { days: dates, series, totals: totalsLeft(totalsOf(parts, days), all, series), parts }
}

/** Totals without the animals that planned sales take. */
function totalsLeft(
  totals: RoomForecast['totals'],
  all: readonly RoomSeries[],
  left: readonly RoomSeries[],
): RoomForecast['totals'] {
  return totals.map((total) => {
    const living = (series: readonly RoomSeries[], day: number) =>
      series.reduce((sum, one) => sum + (one.speciesId === total.speciesId ? one.mean[day]! : 0), 0)
    const shares = total.mean.map((_, day) => {
      const before = living(all, day)
      return before > 0 ? Math.min(1, living(left, day) / before) : 1
    })
    return {
      speciesId: total.speciesId,
      mean: total.mean.map((mean, day) => mean * shares[day]!),
      variance: total.variance.map((variance, day) => variance * shares[day]!),
    }
  })
}

function withOwnThreshold(species: RoomSpecies): RoomSpecies {
  return species.learned
    ? { ...species, profile: withLearnedThreshold(species.profile, species.learned) }
    : species
}

function keepOrPlay(
  parts: Map<string, DailyPart>,
  part: { key: string; signature: string; before: RoomForecast | undefined },
  play: () => Omit<DailyPart, 'signature'>,
): void {
  const kept = part.before?.parts.get(part.key)
  parts.set(part.key, kept?.signature === part.signature ? kept : { ...play(), signature: part.signature })
}

/** All that a part's future rests on, as text: what is equal need not be played again. */
function signatureOf(part: RoomPart | EggPart, room: RoomInput): string {
  const { species, zone, ...own } = part
  const numbers =
    'hatching' in own
      ? { ...own, hatching: [...own.hatching], hatchingSquares: [...own.hatchingSquares] }
      : own
  const { growth, keeping } = species.profile
  const shared = species.learned
    ? [species.learned.shared, species.learned.sharedCovariance, species.learned.noiseLogSd]
    : null
  return JSON.stringify([
    room.today,
    room.days,
    numbers,
    growth,
    keeping.adultLifeWeeks,
    shared,
    zone.futureTemperatureSdC,
    zone.history.slice(-30),
  ])
}

/** Days of the calendar on the clock of a species in a zone. */
function zoneTimes(room: RoomInput): (species: RoomSpecies, zone: RoomZone) => PlaceTime {
  const known = new Map<string, PlaceTime>()
  return (species, zone) => {
    const key = `${species.id}|${zone.id}`
    const before = known.get(key)
    if (before) return before
    const thresholds = thresholdsOf(species.profile)
    const clock = developmentClock(zone.history, thresholds)
    const made = placeTime(clock, room, thresholds.referenceC - thresholds.lowerC)
    known.set(key, made)
    return made
  }
}

function placeTime(clock: DevelopmentClock, room: RoomInput, referenceDegrees: number): PlaceTime {
  const noon = dayNumber(room.today) + 0.5
  const begun = effectiveDaysAt(clock, noon)
  const stepOf = (days: number) => effectiveDaysAt(clock, noon + days) - begun
  const stepOfDay = Array.from({ length: room.days }, (_, day) => stepOf(day))
  const passed = stepOf(room.days)
  return {
    stepOf,
    stepOfDay,
    steps: Math.ceil(passed) + 2,
    degreesAboveThreshold: (referenceDegrees * passed) / room.days,
  }
}

function eggsByPlace(room: RoomInput, times: (species: RoomSpecies, zone: RoomZone) => PlaceTime) {
  const places = new Map<string, RoomInput['eggCases'][number][]>()
  for (const eggCase of room.eggCases) {
    const key = `${eggCase.speciesId}|${eggCase.zoneId}|egg cases`
    places.set(key, [...(places.get(key) ?? []), eggCase])
  }
  return [...places].map(([key, cases]) => {
    const species = room.species.find(({ id }) => id === cases[0]!.speciesId)
    const zone = room.zones.find(({ id }) => id === cases[0]!.zoneId)
    if (!species || !zone) throw new RangeError(`not in the room: ${key}`)
    return { key, species, zone, cases, time: times(species, zone) }
  })
}
