import type { CareProfile } from '../care-profile/profile'
import { thresholdsOf } from './clock'
import { evidenceOf, readyRecords } from './learning-evidence'
import { fitDevelopment } from './learning-fit'
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
  rows: readonly DevelopmentRecord[],
  changes: Partial<LearningSettings> = {},
): LearnedDevelopment {
  const settings = { ...priorSettings(siblingNoiseLogSd(profile)), ...changes }
  const prior = { lowerC: profile.growth.lowerThresholdC.value, sdC: profile.growth.lowerThresholdSdC.value }
  const records = readyRecords(rows, profile)
  const evidenceAt = (lowerC: number) => evidenceOf(records, { ...thresholdsOf(profile), lowerC })
  const atPrior = fitDevelopment(evidenceAt(prior.lowerC), settings)
  if (!hasDistinctZones(rows, profile)) return learnedFromFit(atPrior, { ...prior, isLearned: false })
  const threshold = findThreshold(
    prior,
    (lowerC) =>
      fitDevelopment(evidenceAt(lowerC), settings, { near: atPrior, keepsSpreads: true }).logEvidence,
  )
  const fit = fitDevelopment(evidenceAt(threshold.lowerC), settings, { near: atPrior })
  return learnedFromFit(fit, { ...threshold, isLearned: true })
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
