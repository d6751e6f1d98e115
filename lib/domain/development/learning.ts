import type { CareProfile } from '../care-profile/profile'
import { thresholdsOf } from './clock'
import { evidenceOf } from './learning-evidence'
import { type Fit, fitDevelopment } from './learning-fit'
import { type LearningSettings, priorSettings } from './learning-settings'
import { findThreshold, hasDistinctZones } from './learning-threshold'
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
  const fitAt = (lowerC: number, near?: Fit) =>
    fitDevelopment(evidenceOf(records, profile, { ...thresholdsOf(profile), lowerC }), settings, near)
  const atPrior = fitAt(prior.lowerC)
  if (!hasDistinctZones(records, profile)) return learnedFromFit(atPrior, { ...prior, isLearned: false })
  const threshold = findThreshold(prior, (lowerC) => fitAt(lowerC, atPrior).logEvidence)
  return learnedFromFit(fitAt(threshold.lowerC, atPrior), { ...threshold, isLearned: true })
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
