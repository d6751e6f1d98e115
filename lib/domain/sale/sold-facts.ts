import type { PlainDate } from '../calendar/date'
import { type GrowthRecord, moultsOf } from '../individual/record'
import type { InstarNaming } from '../instar/label'
import type { DescribedAnimal } from './description'

/**
 * What a line of a receipt sold, as it was that day and without words of a language: what the receipt says in another
 * one follows from it. Moults are counted since the hatch; null where the species has no instars.
 */
export type SoldFacts =
  | {
      kind: 'animal'
      scientificName: string
      moults: number | null
      isAdult: boolean
      sex: 'male' | 'female' | 'unsexed'
      certainty: 'none' | 'probable' | 'certain'
      naming: InstarNaming
    }
  /** `lot` reads males.females.unsexed */
  | { kind: 'lot'; scientificName: string; lot: string; hatchedOn: PlainDate }
  | { kind: 'egg_case'; scientificName: string; label: string; laidOn: PlainDate | null }
  | { kind: 'culture'; line: string; name: string; label: string; startedOn: PlainDate }
  | { kind: 'pack'; line: string; name: string; items: number }

type Described = { species: { scientificName: string; profile: unknown }; naming: InstarNaming }

export function factsOfAnimal(
  animal: DescribedAnimal & GrowthRecord,
  { species, naming }: Described,
): SoldFacts {
  return {
    kind: 'animal',
    scientificName: species.scientificName,
    moults: species.profile ? moultsOf(animal) : null,
    isAdult: animal.adultSinceOn !== null,
    sex: animal.sex,
    certainty: animal.sexCertainty,
    naming,
  }
}
