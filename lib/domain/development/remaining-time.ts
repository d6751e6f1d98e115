import type { CareProfile } from '../care-profile/profile'
import { type Lognormal, lognormalBelow, sumOfLognormals } from '../probability/lognormal'
import { normalAbove, normalUpperQuantile } from '../probability/normal'
import { type DevelopmentCourse, medianInstarDays } from './instar-length'
import { type DevelopmentParameters, logCovariance, logShift } from './parameters'

/**
 * Effective days from now to one of the coming moults, given that the present instar has lasted `spent`
 * effective days and is not over (right-censored). The present instar is lognormal, cut off at `spent`; the
 * instars after it are lognormals that go together with it, so a slow present instar promises slow later
 * ones. Their sum is taken as lognormal for each of 24 equally likely lengths of the present one.
 */
export type PresentInstar = {
  profile: CareProfile
  parameters: DevelopmentParameters
  moults: number
  /** Effective days since its start; several, with weights that sum to 1, where the start is not certain. */
  starts: readonly SpentSinceStart[]
}

export type SpentSinceStart = { weight: number; spent: number }

/** An instar with one possible start. */
type Begun = Omit<PresentInstar, 'starts'> & { spent: number }

/** How much a course (with one of the possible starts) is still believed in, and P(remaining effective days ≤ x) on it. */
export type RemainingTime = {
  course: DevelopmentCourse
  weight: number
  chanceBy: (effectiveDays: number) => number
}

const PRESENT_NODES = 24

/**
 * The distribution of the remaining time to the moult that is `moultsAhead` away (1 = the next), or to the
 * final one, per course that gets so far. Weights sum to 1 over all `courses`, so a course that ends
 * earlier leaves a gap: its weight is the chance that there is no such moult.
 */
export function remainingTimes(
  present: PresentInstar,
  courses: readonly DevelopmentCourse[],
  moultsAhead: number | 'final',
): RemainingTime[] {
  const believed = present.starts.flatMap((start) => {
    const begun = { ...present, spent: start.spent }
    return courses.map((course) => {
      const before = course.weight * start.weight
      return { course, begun, before, weight: before * chanceToLast(begun, course) }
    })
  })
  const total = believed.reduce((sum, { weight }) => sum + weight, 0)
  const nextOf = nextMoults()
  return believed
    .map(({ before, weight, ...rest }) => ({ ...rest, weight: total > 0 ? weight / total : before }))
    .filter(({ course }) => moultsAhead === 'final' || course.totalMoults - present.moults >= moultsAhead)
    .map(({ course, begun, weight }) => {
      const ahead = moultsAhead === 'final' ? course.totalMoults - present.moults : moultsAhead
      return {
        course,
        weight,
        chanceBy: ahead === 1 ? nextOf(begun, course) : laterMoult(begun, course, ahead),
      }
    })
}

type ChanceBy = RemainingTime['chanceBy']

/** Next moults, the very same function for courses on which the present instar is equally long. */
function nextMoults(): (begun: Begun, course: DevelopmentCourse) => ChanceBy {
  const known = new Map<string, ChanceBy>()
  return (begun, course) => {
    const key = `${begun.spent} ${medianInstarDays(begun.profile, course, begun.moults)}`
    const before = known.get(key)
    if (before) return before
    const chanceBy = nextMoult(begun, course)
    known.set(key, chanceBy)
    return chanceBy
  }
}

/** Share of animals, over courses and starts, that stay in this instar longer than this one has. */
export function shareStillRunning(present: PresentInstar, courses: readonly DevelopmentCourse[]): number {
  return present.starts.reduce(
    (sum, start) =>
      sum +
      start.weight *
        courses.reduce(
          (part, course) => part + course.weight * chanceToLast({ ...present, spent: start.spent }, course),
          0,
        ),
    0,
  )
}

/** ln of the present instar's length on one course. */
export function presentInstar(present: Omit<PresentInstar, 'starts'>, course: DevelopmentCourse): Lognormal {
  return {
    logMean: expectedLog(present, course, present.moults),
    logSd: Math.sqrt(logCovariance(present.parameters, present.moults, present.moults)),
  }
}

/** P(the present instar lasts longer than it has already). */
function chanceToLast(present: Begun, course: DevelopmentCourse): number {
  return normalAbove(spentZ(present, course))
}

function spentZ(present: Begun, course: DevelopmentCourse): number {
  if (present.spent <= 0) return Number.NEGATIVE_INFINITY
  const { logMean, logSd } = presentInstar(present, course)
  return Math.min(35, (Math.log(present.spent) - logMean) / logSd)
}

function nextMoult(present: Begun, course: DevelopmentCourse): (effectiveDays: number) => number {
  const { logMean, logSd } = presentInstar(present, course)
  const zNow = spentZ(present, course)
  const chanceNow = normalAbove(zNow)
  return (effectiveDays) => {
    if (effectiveDays <= 0) return 0
    const z = (Math.log(present.spent + effectiveDays) - logMean) / logSd
    return 1 - normalAbove(Math.max(z, zNow)) / chanceNow
  }
}

function laterMoult(
  present: Begun,
  course: DevelopmentCourse,
  moultsAhead: number,
): (effectiveDays: number) => number {
  const pieces = presentNodes(present, course).map((log) => ({
    wait: Math.max(0, Math.exp(log) - present.spent),
    rest: restGivenPresent(present, course, { moultsAhead, presentLog: log }),
  }))
  return (effectiveDays) =>
    pieces.reduce((sum, { wait, rest }) => sum + lognormalBelow(rest, effectiveDays - wait), 0) /
    pieces.length
}

/** Equally likely values of ln(length of the present instar), given that it has lasted so far. */
function presentNodes(present: Begun, course: DevelopmentCourse): number[] {
  const { logMean, logSd } = presentInstar(present, course)
  const chanceNow = chanceToLast(present, course)
  return Array.from({ length: PRESENT_NODES }, (_, index) => {
    const chanceAbove = chanceNow * (1 - (index + 0.5) / PRESENT_NODES)
    return logMean + logSd * normalUpperQuantile(chanceAbove)
  })
}

/** The instars between the next moult and the one asked for, once the present length is known. */
function restGivenPresent(
  present: Begun,
  course: DevelopmentCourse,
  known: { moultsAhead: number; presentLog: number },
): Lognormal {
  const { parameters, moults } = present
  const later = Array.from({ length: known.moultsAhead - 1 }, (_, index) => moults + 1 + index)
  const variance = logCovariance(parameters, moults, moults)
  const surprise = known.presentLog - expectedLog(present, course, moults)
  const slopes = later.map((instar) => logCovariance(parameters, instar, moults) / variance)
  const logMeans = later.map(
    (instar, index) => expectedLog(present, course, instar) + (slopes[index] ?? 0) * surprise,
  )
  return sumOfLognormals(
    logMeans,
    (i, j) =>
      logCovariance(parameters, later[i] ?? 0, later[j] ?? 0) -
      (slopes[i] ?? 0) * (slopes[j] ?? 0) * variance,
  )
}

function expectedLog(
  present: Omit<PresentInstar, 'starts'>,
  course: DevelopmentCourse,
  moults: number,
): number {
  return Math.log(medianInstarDays(present.profile, course, moults)) + logShift(present.parameters, moults)
}
