import type { Sex } from '../care-profile/body-length'
import type { CareProfile, MoultCount, RelativeLengths } from '../care-profile/profile'
import { logCovariance, priorParameters } from './parameters'

/**
 * How long instars are, in effective days, before any record is seen. The profile's days to adult are
 * shared out over the usual number of instars by their relative lengths. An animal with one instar more
 * has one more of the same mean length: an inserted instar costs time.
 */
export type SexKnown = 'male' | 'female'

/** One possible course: this sex, this many moults to the adult. Weights of a list sum to 1. */
export type DevelopmentCourse = { sex: SexKnown; totalMoults: number; weight: number }

/** Relative length of the instar after `moults` moults when `totalMoults` lead to the adult. */
export function relativeLength(lengths: RelativeLengths, moults: number, totalMoults: number): number {
  if (moults >= totalMoults - 1) return lengths.last
  if (moults === totalMoults - 2) return lengths.beforeLast
  return [lengths.first, lengths.second, lengths.third][moults] ?? lengths.middle
}

/** Mean length of an instar, in effective days, for one sex. */
export function meanInstarDays(profile: CareProfile, sex: SexKnown): number {
  const typical = profile.growth.moultsToAdult[sex].value.typical
  const lengths = profile.growth.relativeLengths.value
  let sum = 0
  for (let moults = 0; moults < typical; moults += 1) sum += relativeLength(lengths, moults, typical)
  return profile.growth.daysToAdult[sex].value / sum
}

/** Median length of the instar after `moults` moults on one course, in effective days. */
export function medianInstarDays(
  profile: CareProfile,
  course: Pick<DevelopmentCourse, 'sex' | 'totalMoults'>,
  moults: number,
): number {
  const lengths = profile.growth.relativeLengths.value
  return meanInstarDays(profile, course.sex) * relativeLength(lengths, moults, course.totalMoults)
}

/** Standard deviation of the logarithm of one instar's length as predicted from the profile alone. */
export function priorInstarLogSd(profile: CareProfile, moults: number): number {
  return Math.sqrt(logCovariance(priorParameters(profile), moults, moults))
}

/**
 * The courses still open to an animal that has moulted `moults` times and is not adult. An unsexed animal
 * may be either, with the sexes equal at hatch. Wing buds say that this is the last nymphal instar. An
 * animal past every course of the profile gets one more moult: the profile was wrong, the animal is not.
 */
export function openCourses(
  profile: CareProfile,
  animal: { sex: Sex; moults: number; hasWingBuds?: boolean; moultsToAdult?: Record<SexKnown, MoultCount> },
): DevelopmentCourse[] {
  const sexes: SexKnown[] = animal.sex === 'unsexed' ? ['male', 'female'] : [animal.sex]
  const next = animal.moults + 1
  const courses = sexes.flatMap((sex) =>
    coursesOfSex(sex, animal.moultsToAdult?.[sex] ?? profile.growth.moultsToAdult[sex].value),
  )
  const open = courses.filter(({ totalMoults }) =>
    animal.hasWingBuds ? totalMoults === next : totalMoults >= next,
  )
  const weight = open.reduce((total, course) => total + course.weight, 0)
  if (weight > 0) return open.map((course) => ({ ...course, weight: course.weight / weight }))
  return sexes.map((sex) => ({ sex, totalMoults: next, weight: 1 / sexes.length }))
}

function coursesOfSex(sex: SexKnown, count: MoultCount): DevelopmentCourse[] {
  const { typical, oneFewerShare, oneMoreShare } = count
  return [
    { sex, totalMoults: typical - 1, weight: oneFewerShare },
    { sex, totalMoults: typical, weight: 1 - oneFewerShare - oneMoreShare },
    { sex, totalMoults: typical + 1, weight: oneMoreShare },
  ].filter((course) => course.weight > 0)
}
