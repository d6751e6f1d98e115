import { addDays, dayNumber, type PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import { type DevelopmentClock, developmentClock, effectiveDaysAt, thresholdsOf } from '../development/clock'
import { withLearnedThreshold } from '../development/learning'
import type { Occupancy } from './course-play'
import { type EggPart, eggPart, playEggs } from './egg-case'
import { groupRoom } from './grouping'
import { GUESSES } from './guess'
import { MOST_DAYS, type RoomInput, type RoomSpecies, type RoomZone } from './input'
import type { RoomPart } from './part'
import { ADULT, type PartGrid, playPart, STAGES } from './part-play'
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

/** `parts` lets the next forecast keep what has not changed. */
export type RoomForecast = { days: PlainDate[]; series: RoomSeries[]; parts: ReadonlyMap<string, DailyPart> }

/** A part by day: per guess and stage the expected number, and the variance single animals add. */
export type DailyPart = {
  signature: string
  speciesId: string
  sex: Sex
  /** One after the other: guess, stage, day. */
  means: Float64Array
  ownVariance: Float64Array
}

/**
 * Who is in the room on each day of up to 52 weeks. Equal states are put together first, so the work depends
 * on the number of different species, zones and sexes, hardly on the number of animals.
 */
export function forecastRoom(input: RoomInput, before?: RoomForecast): RoomForecast {
  const days = Math.min(MOST_DAYS, Math.max(1, Math.round(input.days)))
  const room = { ...input, days, species: input.species.map(withOwnThreshold) }
  const parts = new Map<string, DailyPart>()
  const times = zoneTimes(room)
  for (const part of groupRoom(room)) {
    const time = times(part.species, part.zone)
    keepOrPlay(parts, { key: part.key, signature: signatureOf(part, room), before }, () =>
      dailyPart(part, time),
    )
  }
  for (const { time, ...cases } of eggsByPlace(room, times)) {
    const part = eggPart(cases, { today: room.today, days, steps: time.steps, stepOf: time.stepOf })
    keepOrPlay(parts, { key: part.key, signature: signatureOf(part, room), before }, () =>
      dailyEggs(part, time),
    )
  }
  const dates = Array.from({ length: days }, (_, day) => addDays(room.today, day))
  return { days: dates, series: withoutSales(seriesOf(parts, days), room, times), parts }
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

export type PlaceTime = PartGrid & { stepOf: (days: number) => number; stepOfDay: number[] }

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

function dailyPart(part: RoomPart, time: PlaceTime): Omit<DailyPart, 'signature'> {
  const { means, ownVariance, now } = playPart(part, time)
  return { ...daily(means, ownVariance, { now, time }), speciesId: part.species.id, sex: part.sex }
}

function dailyEggs(part: EggPart, time: PlaceTime): Omit<DailyPart, 'signature'> {
  const { means, ownVariance } = playEggs(part, time)
  const now = new Float64Array(STAGES)
  return { ...daily(means, ownVariance, { now, time }), speciesId: part.species.id, sex: 'unsexed' }
}

function daily(
  means: readonly Occupancy[],
  ownVariance: Occupancy,
  { now, time }: { now: Float64Array; time: PlaceTime },
): { means: Float64Array; ownVariance: Float64Array } {
  const days = time.stepOfDay.length
  const flat = new Float64Array(means.length * STAGES * days)
  means.forEach((stages, guess) => {
    stages.forEach((stage, index) => {
      readDays(stage, { now: now[index]!, time }, flat.subarray((guess * STAGES + index) * days))
    })
  })
  const variance = new Float64Array(STAGES * days)
  ownVariance.forEach((stage, index) => {
    readDays(stage, { now: 0, time }, variance.subarray(index * days))
  })
  return { means: flat, ownVariance: variance }
}

/** Between steps evenly; a step's value is that of half a step later, before the first stands what is seen now. */
function readDays(
  stage: Float64Array,
  { now, time }: { now: number; time: PlaceTime },
  into: Float64Array,
): void {
  time.stepOfDay.forEach((step, day) => {
    const at = step - 0.5
    const low = Math.floor(at)
    const from = low < 0 ? now : stage[low]!
    const until = stage[Math.min(stage.length - 1, low + 1)]!
    const share = low < 0 ? step / 0.5 : at - low
    into[day] = from + (until - from) * share
  })
}

/** Adds the parts of a species and sex: guesses move all of them together. */
function seriesOf(parts: ReadonlyMap<string, DailyPart>, days: number): RoomSeries[] {
  const sums = new Map<string, { speciesId: string; sex: Sex; means: Float64Array; own: Float64Array }>()
  for (const [, part] of [...parts].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const key = `${part.speciesId}|${part.sex}`
    const sum = sums.get(key) ?? {
      speciesId: part.speciesId,
      sex: part.sex,
      means: new Float64Array(part.means.length),
      own: new Float64Array(part.ownVariance.length),
    }
    sums.set(key, sum)
    for (let cell = 0; cell < sum.means.length; cell += 1) sum.means[cell]! += part.means[cell]!
    for (let cell = 0; cell < sum.own.length; cell += 1) sum.own[cell]! += part.ownVariance[cell]!
  }
  return [...sums.values()].flatMap((sum) =>
    Array.from({ length: STAGES }, (_, stage) => ({
      speciesId: sum.speciesId,
      sex: sum.sex,
      moults: stage === ADULT ? null : stage,
      ...momentsOf(sum, stage, days),
    })).filter(({ mean }) => mean.some((count) => count > 1e-6)),
  )
}

function momentsOf(
  sum: { means: Float64Array; own: Float64Array },
  stage: number,
  days: number,
): { mean: number[]; variance: number[] } {
  const mean: number[] = []
  const variance: number[] = []
  for (let day = 0; day < days; day += 1) {
    let [first, second] = [0, 0]
    GUESSES.forEach(({ weight }, guess) => {
      const count = sum.means[(guess * STAGES + stage) * days + day]!
      first += weight * count
      second += weight * count * count
    })
    mean.push(first)
    variance.push(Math.max(0, second - first * first) + sum.own[stage * days + day]!)
  }
  return { mean, variance }
}
