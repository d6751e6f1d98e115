import type { PlainDate } from '../calendar/date'
import type { CareProfile, InstarSurvival } from '../care-profile/profile'
import { recordAsOf } from '../individual/record'
import type { KeptAnimal } from './evidence'

/**
 * How many live through an instar in this workspace, of those kept singly: a beta for each of the five shares of the
 * care profile, which is worth PROFILE_ANIMALS. An instar that was completed counts for it, a death in it against it.
 * Who was under way in it when the record began, or still is, or has left, was seen for a part of it: half, as
 * actuaries count. Deaths of whatever cause: who drowns does not grow up either.
 */
export type SurvivalSlot = keyof InstarSurvival
export const SURVIVAL_SLOTS = [
  'first',
  'second',
  'third',
  'later',
  'finalMoult',
] as const satisfies readonly SurvivalSlot[]

export type LearnedSurvival = Record<SurvivalSlot, { lived: number; died: number; share: number; sd: number }>

const PROFILE_ANIMALS = 20
/** With fewer own animals seen in an instar the share of the profile stands. */
export const FEWEST_SEEN = 20

/** Independent of the order of the animals. O(moults on record). */
export function learnSurvival(
  profile: CareProfile,
  animals: readonly KeptAnimal[],
  asOf: PlainDate,
): LearnedSurvival {
  const counts = Object.fromEntries(SURVIVAL_SLOTS.map((slot) => [slot, { lived: 0, died: 0 }]))
  for (const animal of animals)
    for (const { slot, lived, died } of instarsOf(profile, animal, asOf)) {
      counts[slot]!.lived += lived
      counts[slot]!.died += died
    }
  const learned = (slot: SurvivalSlot) => {
    const { lived, died } = counts[slot]!
    const prior = profile.growth.survival.value[slot]
    const total = PROFILE_ANIMALS + lived + died
    const share = (PROFILE_ANIMALS * prior + lived) / total
    return { lived, died, share, sd: Math.sqrt((share * (1 - share)) / (total + 1)) }
  }
  return {
    first: learned('first'),
    second: learned('second'),
    third: learned('third'),
    later: learned('later'),
    finalMoult: learned('finalMoult'),
  }
}

type SeenInstar = { slot: SurvivalSlot; lived: number; died: number }
const HALF = 0.5

function instarsOf(profile: CareProfile, animal: KeptAnimal, asOf: PlainDate): SeenInstar[] {
  if (animal.baselineOn > asOf) return []
  const record = recordAsOf(animal, asOf)
  const { baselineOn, baselineMoults, baselineLastMoultOn, hatchedOn, moults } = record
  if (record.adultSinceOn !== null && moults.length === 0) return []
  const began = baselineMoults === 0 ? hatchedOn : baselineLastMoultOn
  const completed = moults.map(({ number, final }, index) => ({
    slot: final ? ('finalMoult' as const) : slotOf(number - 1),
    lived: index === 0 && began !== baselineOn ? HALF : 1,
    died: 0,
  }))
  if (record.adultSinceOn !== null) return completed
  const made = moults.at(-1)?.number ?? baselineMoults
  const hasDied = animal.hasDied === true && animal.leftOn !== null && animal.leftOn <= asOf
  const running = { slot: runningSlot(profile, { sex: animal.sex, moults: made }) }
  return [...completed, hasDied ? { ...running, lived: 0, died: 1 } : { ...running, lived: HALF, died: 0 }]
}

function slotOf(moults: number): SurvivalSlot {
  return (['first', 'second', 'third'] as const)[moults] ?? 'later'
}

/** Whether it would have been the last nobody knows of those who do not get through it: the usual number says. */
function runningSlot(profile: CareProfile, animal: { sex: KeptAnimal['sex']; moults: number }): SurvivalSlot {
  const { male, female } = profile.growth.moultsToAdult
  const usual = animal.sex === 'male' ? male.value.typical : female.value.typical
  return animal.moults >= usual - 1 ? 'finalMoult' : slotOf(animal.moults)
}

export const isSeenEnough = ({ lived, died }: { lived: number; died: number }) => lived + died >= FEWEST_SEEN

/** The profile with the shares of which enough has been seen, for everything that counts animals ahead. */
export function withLearnedSurvival(profile: CareProfile, learned: LearnedSurvival): CareProfile {
  const known = SURVIVAL_SLOTS.filter((slot) => isSeenEnough(learned[slot]))
  if (known.length === 0) return profile
  const own = Object.fromEntries(known.map((slot) => [slot, learned[slot].share]))
  const value = { ...profile.growth.survival.value, ...own }
  const source = { kind: 'own' as const, note: 'Learned from own animals that lived or died in each instar.' }
  return { ...profile, growth: { ...profile.growth, survival: { value, source } } }
}
