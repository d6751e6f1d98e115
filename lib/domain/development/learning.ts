import type { CareProfile } from '../care-profile/profile'
import { thresholdsOf } from './clock'
import { evidenceOf } from './learning-evidence'
import { type Fit, fitDevelopment } from './learning-fit'
import { type LearningSettings, priorSettings } from './learning-settings'
import { hasDistinctZones, thresholdFromFits, thresholdGrid } from './learning-threshold'
import { siblingNoiseLogSd } from './parameters'
import { type LearnedDevelopment, learnedFromFit } from './posterior'
import type { DevelopmentRecord } from './record'

/**
 * Learns from all records of one species in a workspace: completed, running and noticed-late instars of
 * living, sold and dead animals. One joint fit; see `learning-newton`. Linear in the number of records,
 * independent of their order, without chance.
 */
export function learnDevelopment(
  profile: CareProfile,
  records: readonly DevelopmentRecord[],
  changes: Partial<LearningSettings> = {},
): LearnedDevelopment {
  const settings = { ...priorSettings(siblingNoiseLogSd(profile)), ...changes }
  const prior = { lowerC: profile.growth.lowerThresholdC.value, sdC: profile.growth.lowerThresholdSdC.value }
  const fitAt = (lowerC: number) => fitAtThreshold(profile, records, { lowerC, settings })
  if (!hasDistinctZones(records, profile))
    return learnedFromFit(fitAt(prior.lowerC), { ...prior, isLearned: false })
  const fits = thresholdGrid(prior, profile).map((lowerC) => ({
    lowerC,
    logEvidence: fitAt(lowerC).logEvidence,
  }))
  const threshold = thresholdFromFits(fits, prior)
  return learnedFromFit(fitAt(threshold.lowerC), { ...threshold, isLearned: true })
}

function fitAtThreshold(
  profile: CareProfile,
  records: readonly DevelopmentRecord[],
  { lowerC, settings }: { lowerC: number; settings: LearningSettings },
): Fit {
  const thresholds = { ...thresholdsOf(profile), lowerC }
  return fitDevelopment(evidenceOf(records, profile, thresholds), settings)
}

/** The profile with the threshold that was learned, for forecasts with learned parameters. */
export function withLearnedThreshold(profile: CareProfile, learned: LearnedDevelopment): CareProfile {
  if (!learned.threshold.isLearned) return profile
  const { lowerC, sdC } = learned.threshold
  const source = { kind: 'own' as const, note: 'Learned from clutches kept at different temperatures.' }
  return {
    ...profile,
    growth: {
      ...profile.growth,
      lowerThresholdC: { value: lowerC, source },
      lowerThresholdSdC: { value: sdC, source },
    },
  }
}
