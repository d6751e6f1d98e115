import type { CareProfile } from '../care-profile/profile'
import { medianInstarDays, openCourses } from '../development/instar-length'
import { type DevelopmentParameters, logCovariance, logShift, PRIOR_LOG_SD } from '../development/parameters'
import { type Lognormal, lognormalBelow, sumOfLognormals } from '../probability/lognormal'

/**
 * How the siblings of one clutch are spread over the instars at an age. Only what differs *between*
 * siblings spreads them (0.15 in all, part of it lasting through life); what is unknown about the whole
 * clutch moves them together and is kept apart as `sharedLogSd`. Ages are effective days since hatch.
 */
export type ClutchStages = { courses: StageCourse[]; sharedLogSd: (moults: number) => number }

type StageCourse = {
  weight: number /** Age at moult 1, 2, …, the last being the final one. */
  ageAtMoult: Lognormal[]
}

export function clutchStages(profile: CareProfile, parameters: DevelopmentParameters): ClutchStages {
  const siblings = (i: number, j: number) =>
    PRIOR_LOG_SD.animal ** 2 + (i === j ? parameters.noiseLogSd ** 2 : 0)
  const courses = openCourses(profile, { sex: 'unsexed', moults: 0 }).map((course) => {
    const logs = Array.from(
      { length: course.totalMoults },
      (_, moults) => Math.log(medianInstarDays(profile, course, moults)) + logShift(parameters, moults),
    )
    const ageAtMoult = logs.map((_, index) => sumOfLognormals(logs.slice(0, index + 1), siblings))
    return { weight: course.weight, logs, ageAtMoult }
  })
  const first = courses[0]
  const sharedLogSd = (moults: number) => {
    const logs = (first?.logs ?? []).slice(0, Math.max(1, moults))
    const all = sumOfLognormals(logs, (i, j) => logCovariance(parameters, i, j))
    return Math.sqrt(Math.max(0, all.logSd ** 2 - sumOfLognormals(logs, siblings).logSd ** 2))
  }
  return { courses, sharedLogSd }
}

/** Share of siblings that have made at least so many moults (or are adult) at an age. */
export function sharePast(stages: ClutchStages, moults: number, age: number): number {
  if (moults <= 0) return 1
  return stages.courses.reduce((sum, { weight, ageAtMoult }) => {
    const reached = ageAtMoult[Math.min(moults, ageAtMoult.length) - 1]
    return sum + (reached ? weight * lognormalBelow(reached, age) : 0)
  }, 0)
}

/** Share of siblings whose next moult, at an age, is the final one, or who have made it: whoever shows wing buds or wings. */
export function shareWithWingBuds({ courses }: ClutchStages, age: number): number {
  return courses.reduce((sum, { weight, ageAtMoult }) => {
    const last = ageAtMoult.at(-2)
    return sum + (last ? weight * lognormalBelow(last, age) : weight)
  }, 0)
}

/** Shares by moults made so far; sums to 1. */
export function stageShares(stages: ClutchStages, age: number): number[] {
  const most = Math.max(...stages.courses.map(({ ageAtMoult }) => ageAtMoult.length))
  const shares = Array.from({ length: most + 1 }, () => 0)
  for (const { weight, ageAtMoult } of stages.courses) {
    const past = [1, ...ageAtMoult.map((reached) => lognormalBelow(reached, age)), 0]
    for (let moults = 0; moults <= ageAtMoult.length; moults += 1) {
      shares[moults] =
        (shares[moults] ?? 0) + weight * Math.max(0, (past[moults] ?? 0) - (past[moults + 1] ?? 0))
    }
  }
  return shares
}

/** Age by which half of the siblings have made so many moults; between courses the weighted mean. */
export function medianAgeAtMoult(stages: ClutchStages, moults: number): number {
  return stages.courses.reduce((sum, { weight, ageAtMoult }) => {
    const reached = ageAtMoult[Math.min(moults, ageAtMoult.length) - 1]
    return sum + (reached ? weight * Math.exp(reached.logMean) : 0)
  }, 0)
}
