import { addDays, dayNumber, daysBetween, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { developmentClock, effectiveDaysAt, thresholdsOf } from './clock'
import { medianInstarDays, openCourses } from './instar-length'
import { logCovariance, logShift } from './parameters'
import { type LearnedDevelopment, parametersOf } from './posterior'
import type { DevelopmentRecord } from './record'

/** A day on which an instar may have begun; weights of a list sum to 1. */
export type PossibleStart = { on: PlainDate; weight: number }

const MOST_STARTS = 5
const DOUBT_WORTH_A_THOUGHT = 0.02

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
 * When the running instar may have begun: within the span in which its moult was noticed or, as far as
 * that date is doubtful, at any time since the moult before, as the length of that instar makes likely.
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
  const doubt = wrong.find(({ moults }) => moults === last.moults)?.chance ?? 0
  if (!before || record.runningOn === null || doubt < DOUBT_WORTH_A_THOUGHT) return noticed
  const elsewhere = startsAfter(record, { ...known, beforeOn: before.latestOn, instar: last.moults - 1 })
  return [
    ...noticed.map(({ on, weight }) => ({ on, weight: weight * (1 - doubt) })),
    ...elsewhere.map(({ on, weight }) => ({ on, weight: weight * doubt })),
  ]
}

/** Days between the moult before and the last look, weighed by the expected length of the instar between. */
function startsAfter(
  record: DevelopmentRecord,
  known: { profile: CareProfile; learned: LearnedDevelopment; beforeOn: PlainDate; instar: number },
): PossibleStart[] {
  const { profile, learned, beforeOn, instar } = known
  const clock = developmentClock(record.history, thresholdsOf(profile))
  const parameters = parametersOf(learned, { clutchId: record.clutchId, animalId: record.animalId })
  const course = openCourses(profile, { sex: record.sex, moults: instar + 1 })[0]!
  const logMean = Math.log(medianInstarDays(profile, course, instar)) + logShift(parameters, instar)
  const variance = logCovariance(parameters, instar, instar)
  const begun = effectiveDaysAt(clock, dayNumber(beforeOn))
  const days = Math.max(1, daysBetween(beforeOn, record.runningOn ?? beforeOn))
  const all = Array.from({ length: MOST_STARTS * 2 }, (_, index) => {
    const on = addDays(beforeOn, Math.ceil(((index + 0.5) * days) / (MOST_STARTS * 2)))
    const length = Math.max(0.1, effectiveDaysAt(clock, dayNumber(on)) - begun)
    const log = Math.log(length)
    return { on, weight: Math.exp(-((log - logMean) ** 2) / (2 * variance)) / length }
  })
  const total = all.reduce((sum, { weight }) => sum + weight, 0)
  return all.map(({ on, weight }) => ({ on, weight: total > 0 ? weight / total : 1 / all.length }))
}
