import type { CareProfile } from '../care-profile/profile'

/** How sure a sex can be at a stage: young nymphs all look alike, whatever was written on the cup. */
export type SexCertainty = 'unsexed' | 'probable' | 'certain'

export function sexCertainty(
  profile: CareProfile,
  animal: { sex: 'male' | 'female' | 'unsexed'; moults: number; isAdult?: boolean },
): SexCertainty {
  if (animal.sex === 'unsexed') return 'unsexed'
  const { probableFromMoults, certainFromMoults } = profile.handling.sexing.value
  if (animal.isAdult || animal.moults >= certainFromMoults) return 'certain'
  return animal.moults >= probableFromMoults ? 'probable' : 'unsexed'
}
