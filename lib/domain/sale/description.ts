import type { Sex } from '../care-profile/body-length'
import { type GrowthRecord, moultsOf } from '../individual/record'
import { conventionNote, type InstarNaming, instarLabel } from '../instar/label'

export type DescribedAnimal = GrowthRecord & { sex: Sex; sexCertainty: 'none' | 'probable' | 'certain' }

/** `species.profile` is null where no instars are defined; then none is named. */
type Described = { species: { scientificName: string; profile: unknown }; naming: InstarNaming }

/** "Hymenopus coronatus, 4th instar (hatchling counted as 1st), female": what a receipt says was sold. */
export function describeForSale(animal: DescribedAnimal, { species, naming }: Described): string {
  const isAdult = animal.adultSinceOn !== null
  const stage = instarLabel(moultsOf(animal), naming, { isAdult })
  const note = isAdult ? '' : ` (${conventionNote(naming)})`
  const parts = [species.scientificName, species.profile ? `${stage}${note}` : '', sexWord(animal)]
  return parts.filter(Boolean).join(', ')
}

function sexWord({ sex, sexCertainty }: DescribedAnimal): string {
  if (sex === 'unsexed') return 'unsexed'
  return sexCertainty === 'certain' ? sex : `probably ${sex}`
}
