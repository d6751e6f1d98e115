import type { CareProfile } from '../care-profile/profile'
import type { SexKnown } from '../development/instar-length'
import { medianInstarDays } from '../development/instar-length'
import type { DevelopmentParameters } from '../development/parameters'
import { Z_OF_90 } from '../probability/normal'
import { type StageLength, stageLength } from './course-play'

/** Nymphal stages of one course, for animals that deviate from the profile by `logShift` in all. */
export function courseStages(
  profile: CareProfile,
  course: { sex: SexKnown; totalMoults: number },
  known: { parameters: DevelopmentParameters; logShift: number },
): StageLength[] {
  const { parameters, logShift } = known
  return Array.from({ length: course.totalMoults }, (_, moults) => {
    const place = Math.min(moults, parameters.byInstar.length - 1)
    const logMean =
      Math.log(medianInstarDays(profile, course, moults)) + logShift + parameters.byInstar[place]!
    // The bias of an instar is common to all animals, but differs from instar to instar as noise does.
    const logSd = Math.sqrt(parameters.noiseLogSd ** 2 + parameters.covariance[3 + place]![3 + place]!)
    const survival = instarSurvival(profile, moults, course.totalMoults)
    return stageLength({ logMean, logSd }, -Math.log(survival) / Math.exp(logMean))
  })
}

/** The profile's weeks of adult life read as its 10–90 % range, in effective days. */
export function adultStage(profile: CareProfile, sex: SexKnown): StageLength {
  const { min, max } = profile.keeping.adultLifeWeeks[sex].value
  const [shortest, longest] = [Math.log(min * 7), Math.log(Math.max(max, min * 1.02) * 7)]
  return stageLength({ logMean: (shortest + longest) / 2, logSd: (longest - shortest) / (2 * Z_OF_90) }, 0)
}

/** Chance of living through the instar after `moults` moults. */
export function instarSurvival(profile: CareProfile, moults: number, totalMoults: number): number {
  const { first, second, third, later, finalMoult } = profile.growth.survival.value
  const chance = moults >= totalMoults - 1 ? finalMoult : ([first, second, third][moults] ?? later)
  return Math.min(1, Math.max(0.01, chance))
}
