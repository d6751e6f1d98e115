export type BuyerExperience = 'unknown' | 'beginner' | 'experienced'

/** Whether the buyer is a beginner; left out where nobody asked, so that the counter warns instead of saying not today. */
export function beginnerKnown(experience: BuyerExperience | undefined): { isForBeginner?: boolean } {
  return experience === undefined || experience === 'unknown'
    ? {}
    : { isForBeginner: experience === 'beginner' }
}
