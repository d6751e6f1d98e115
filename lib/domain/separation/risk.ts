import { bodyLengthMm } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'

/**
 * Risk of being eaten, per animal and day, in a group of siblings.
 *
 *   λ = Σ share of instar × risk of instar × tolerance × size gap × crowding × own losses + hunger
 *
 * Hunger and size gap come first, density second (Hurd & Eisenberg 1984); a fierce species eats siblings
 * even when fed (Fea, Stanley & Holwell 2014). All numbers are defaults of the profile until a workspace's
 * own losses scale them.
 */
export type GroupState = {
  /** Shares by moults made so far. */
  shares: readonly number[]
  together: number
  /** Two instars were seen side by side. */
  hasSizeGap?: boolean
  isHungry?: boolean
  /** Volume of the group's container; unknown counts as roomy enough. */
  volumeMl?: number
  /** Own losses against the expected ones, 1 where nothing is known. */
  lossScale?: number
}

export const HIGHEST_RISK_PER_DAY = 0.95
export const HIGHEST_CROWDING = 4
/** A group is at ease with one animal per cube of three body lengths. */
const LENGTHS_PER_ANIMAL = 3

export function riskPerAnimalDay(profile: CareProfile, group: GroupState): number {
  const values = profile.separation
  const tolerance = values.toleranceFactors.value[values.tolerance.value]
  const gap = group.hasSizeGap ? values.sizeGapFactor.value : 1
  const hunger = group.isHungry ? values.hungerRiskPerDay.value : 0
  const factors = tolerance * gap * crowdingFactor(profile, group) * (group.lossScale ?? 1)
  return Math.min(HIGHEST_RISK_PER_DAY, meanInstarRisk(profile, group.shares) * factors + hunger)
}

/** 1 with room enough, growing with the number of animals in the volume, at most fourfold (default). */
export function crowdingFactor(profile: CareProfile, group: GroupState): number {
  const { volumeMl } = group
  if (volumeMl === undefined || volumeMl <= 0) return 1
  const perAnimal = crowdingPerAnimal(profile, { ...group, volumeMl })
  return Math.min(HIGHEST_CROWDING, Math.max(1, group.together * perAnimal))
}

/** Share of the volume that one animal needs to be at ease. */
export function crowdingPerAnimal(profile: CareProfile, group: GroupState & { volumeMl: number }): number {
  const meanMoults = group.shares.reduce((sum, share, moults) => sum + share * moults, 0)
  const cubeMm = LENGTHS_PER_ANIMAL * bodyLengthMm(profile, { sex: 'unsexed', moults: meanMoults })
  return cubeMm ** 3 / 1000 / group.volumeMl
}

function meanInstarRisk(profile: CareProfile, shares: readonly number[]): number {
  const risks = profile.separation.riskPerDay.value
  return shares.reduce(
    (sum, share, moults) => sum + share * (risks[Math.min(moults, risks.length - 1)] ?? 0),
    0,
  )
}
