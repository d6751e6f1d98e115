import type { CareProfile } from './profile'

export type Sex = 'male' | 'female' | 'unsexed'

/**
 * Body length in mm after a number of moults: hatchling × (adult ÷ hatchling)^(moults ÷ moults to adult).
 * Growth by a constant factor per moult (Dyar's rule). An unsexed animal is the mean of both, since the
 * cup has to fit either; no animal grows past its adult length.
 */
export function bodyLengthMm(
  profile: CareProfile,
  animal: { sex: Sex; moults: number; isAdult?: boolean },
): number {
  if (animal.sex !== 'unsexed') return lengthOfSex(profile, { ...animal, sex: animal.sex })
  const male = lengthOfSex(profile, { ...animal, sex: 'male' })
  return (male + lengthOfSex(profile, { ...animal, sex: 'female' })) / 2
}

function lengthOfSex(
  profile: CareProfile,
  animal: { sex: 'male' | 'female'; moults: number; isAdult?: boolean },
): number {
  const length = profile.keeping.bodyLengthMm.value
  const adult = animal.sex === 'male' ? length.adultMale : length.adultFemale
  const typical = profile.growth.moultsToAdult[animal.sex].value.typical
  const share = animal.isAdult ? 1 : Math.min(1, animal.moults / typical)
  return share === 1 ? adult : length.hatchling * (adult / length.hatchling) ** share
}
