import { addDays, dayNumber, daysBetween, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { developmentClock, effectiveDaysAt, thresholdsOf } from './clock'
import { medianInstarDays, openCourses } from './instar-length'
import { logCovariance, logShift } from './parameters'
import { type LearnedDevelopment, parametersOf } from './posterior'
import type { DevelopmentRecord, RecordedStart } from './record'

/** A day on which an instar may have begun; weights of a list sum to 1. */
export type PossibleStart = { on: PlainDate; weight: number }

const MOST_STARTS = 5
const DOUBT_WORTH_A_THOUGHT = 0.02
const MOST_DOUBT_OF_BEFORE = 0.3

/** All days of a span, equally likely; of a long one five that stand for it. */
export function startsWithin(earliestOn: PlainDate, latestOn: PlainDate): PossibleStart[] {
  const days = Math.max(1, daysBetween(earliestOn, latestOn) + 1)
  const count = Math.min(days, MOST_STARTS)
  return Array.from({ length: count }, (_, index) => ({
    on: addDays(earliestOn, Math.floor(((index + 0.5) * days) / count)),
    weight: 1 / count,
  }))
}

/**
 * When the running instar may have begun: within the span in which its moult was noticed or, as far as that
 * date is doubtful, at any time since the moult before. Days are weighed by how likely they make the length
 * of the instar before, where that is on record.
 */
export function possibleStarts(
  record: DevelopmentRecord,
  known: { profile: CareProfile; learned: LearnedDevelopment },
): PossibleStart[] {
  const last = record.starts.at(-1)
  if (!last) return []
  const noticed = startsWithin(last.earliestOn, last.latestOn)
  const before = record.starts.at(-2)
  const wrong = known.learned.animals[record.animalId]?.wrongDates ?? []
  const doubtOf = (moults: number) => wrong.find((one) => one.moults === moults)
  if (!before || before.moults !== last.moults - 1) return noticed
  const weigh = lengthWeight(record, { ...known, before })
  // A span is no better known for a length counted from a date that is itself in doubt.
  const isUsable = noticed.length > 1 && (doubtOf(before.moults)?.chance ?? 0) < MOST_DOUBT_OF_BEFORE
  const within = isUsable ? weighed(noticed, (on) => weigh(on)) : noticed
  const doubt = doubtOf(last.moults)
  if (!doubt || record.runningOn === null) return within
  if (Math.max(doubt.chance, doubt.chanceAtFirst) < DOUBT_WORTH_A_THOUGHT) return within
  const days = Math.max(1, daysBetween(before.latestOn, record.runningOn))
  const anyDay = Array.from({ length: MOST_STARTS * 2 }, (_, index) => ({
    on: addDays(before.latestOn, Math.ceil(((index + 0.5) * days) / (MOST_STARTS * 2))),
    weight: 1,
  }))
  return [
    ...within.map(({ on, weight }) => ({ on, weight: weight * (1 - doubt.chanceAtFirst) })),
    ...weighed(anyDay, weigh).map(({ on, weight }) => ({ on, weight: weight * doubt.chanceAtFirst })),
  ]
}

/** Starts weighed anew; as they are where no day is likely at all. */
function weighed(starts: readonly PossibleStart[], weigh: (on: PlainDate) => number): PossibleStart[] {
  const all = starts.map(({ on, weight }) => ({ on, weight: weight * weigh(on) }))
  const total = all.reduce((sum, { weight }) => sum + weight, 0)
  const even = starts.reduce((sum, { weight }) => sum + weight, 0)
  if (total > 0) return all.map(({ on, weight }) => ({ on, weight: weight / total }))
  return starts.map(({ on, weight }) => ({ on, weight: weight / even }))
}

/** How likely a day makes the length of the instar that it ended: its lognormal density, up to a constant. */
function lengthWeight(
  record: DevelopmentRecord,
  known: { profile: CareProfile; learned: LearnedDevelopment; before: RecordedStart },
): (on: PlainDate) => number {
  const { profile, learned, before } = known
  const instar = before.moults
  const clock = developmentClock(record.history, thresholdsOf(profile))
  const parameters = parametersOf(learned, { clutchId: record.clutchId, animalId: record.animalId })
  const course = openCourses(profile, { sex: record.sex, moults: instar + 1 })[0]!
  const logMean = Math.log(medianInstarDays(profile, course, instar)) + logShift(parameters, instar)
  const from = effectiveDaysAt(clock, dayNumber(before.earliestOn))
  const until = effectiveDaysAt(clock, dayNumber(before.latestOn) + 1)
  const widthLog = (until - from) / Math.exp(logMean)
  const variance = logCovariance(parameters, instar, instar) + widthLog ** 2 / 12
  return (on) => {
    const middle = effectiveDaysAt(clock, dayNumber(on) + 0.5)
    const length = Math.max(0.1, middle - (from + until) / 2)
    return Math.exp(-((Math.log(length) - logMean) ** 2) / (2 * variance)) / length
  }
}
