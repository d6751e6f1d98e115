import type { Sex } from '../care-profile/body-length'
import type { CareProfile, MoultCount } from '../care-profile/profile'
import { meanInstarDays, relativeLength, type SexKnown } from './instar-length'
import type { DevelopmentRecord } from './record'

/**
 * How many moults lead to the adult in this workspace, per sex. A Dirichlet prior from the profile, worth
 * PROFILE_ANIMALS, in the form of one beta per number of moults ("was this moult the final one?"), in which
 * nymphs that go on are counted exactly: among animals of one age the adults alone would always look as if
 * few moults were the rule. Siblings share food and warmth, so each further one says less.
 */
export type LearnedInstarCounts = Record<SexKnown, InstarCountsOfSex>

export type InstarCountsOfSex = {
  /** Ascending, from the fewest to the most that has any weight; shares sum to 1. */
  shares: InstarCountShare[]
  /** Own adults with a known number of moults. */
  adultsSeen: number
  /** Own nymphs with wing buds, whose next moult is the final one; missing in a fit stored before they counted. */
  budsSeen?: number
}

/** `sd` is what is left unknown of the share. */
export type InstarCountShare = { totalMoults: number; share: number; sd: number }

const PROFILE_ANIMALS = 12
/** Numbers of moults of which the profile says nothing are possible, up to two further from the usual one. */
const UNHEARD_OF_ANIMALS = 0.1
const FURTHEST = 3
const FEWEST_MOULTS = 3
/** How alike siblings are in their number of instars (correlation); a default. */
export const SIBLING_LIKENESS = 0.05

/** Independent of the order of the records; those without a stage of their own say nothing. O(records). */
export function learnInstarCounts(
  profile: CareProfile,
  records: readonly DevelopmentRecord[],
): LearnedInstarCounts {
  const weighed = weighSiblings(records.flatMap((record) => sightingsOf(profile, record)))
  return { male: countsOf('male'), female: countsOf('female') }

  function countsOf(sex: SexKnown): InstarCountsOfSex {
    const known = records.filter((record) => record.sex === sex && record.starts.length > 0)
    const countOf = (is: (record: DevelopmentRecord) => boolean) =>
      known.filter(is).reduce((sum, { count }) => sum + (count ?? 1), 0)
    const own = weighed.filter((sighting) => sighting.sex === sex)
    return {
      shares: sharesOf(profile.growth.moultsToAdult[sex].value, own),
      adultsSeen: countOf(({ isAdult }) => isAdult),
      budsSeen: countOf(({ isAdult, hasWingBuds = false }) => hasWingBuds && !isAdult),
    }
  }
}

/** Each further sibling says less of the workspace. */
export function weighSiblings(seen: readonly Sighting[]): Sighting[] {
  const animals = new Map<string, number>()
  for (const { family, weight } of seen) animals.set(family, (animals.get(family) ?? 0) + weight)
  return seen.map((sighting) => {
    const siblings = Math.max(0, animals.get(sighting.family)! - 1)
    return { ...sighting, weight: sighting.weight / (1 + siblings * SIBLING_LIKENESS) }
  })
}

/** An animal that became adult by its `moults`th moult, or went on after it. */
export type Sighting = { family: string; sex: SexKnown; moults: number; isAdult: boolean; weight: number }

/** An unsexed nymph counts for both sexes, as far as so many moults leave either likely. */
export function sightingsOf(profile: CareProfile, record: DevelopmentRecord): Sighting[] {
  const made = record.starts.at(-1)?.moults
  if (made === undefined || (made === 0 && !record.isAdult)) return []
  const { clutchId, animalId, count, hasWingBuds = false } = record
  // Wing buds say that the moult to come is the final one, as surely as if it had come.
  const isAdult = record.isAdult || hasWingBuds
  const moults = made + (hasWingBuds && !record.isAdult ? 1 : 0)
  const family = clutchId ?? `alone ${animalId}`
  return sexWeights(profile, { sex: record.sex, moults, isAdult }).map(({ sex, weight }) => ({
    family,
    sex,
    moults,
    isAdult,
    weight: weight * (count ?? 1),
  }))
}

function sexWeights(
  profile: CareProfile,
  animal: { sex: Sex; moults: number; isAdult: boolean },
): { sex: SexKnown; weight: number }[] {
  if (animal.sex !== 'unsexed') return [{ sex: animal.sex, weight: 1 }]
  // An adult whose sex nobody noted may be either, and which it is would decide what it says.
  if (animal.isAdult) return []
  const sexes = (['male', 'female'] as const).map((sex) => {
    const beliefs = priorBeliefs(profile.growth.moultsToAdult[sex].value)
    const open = beliefs.filter(({ totalMoults }) => totalMoults > animal.moults)
    return { sex, weight: open.reduce((sum, { animals }) => sum + animals, 0) }
  })
  const total = sexes.reduce((sum, { weight }) => sum + weight, 0)
  return total > 0 ? sexes.map(({ sex, weight }) => ({ sex, weight: weight / total })) : []
}

/** A number of moults with the animals that the prior is worth for it. */
export type Belief = { totalMoults: number; animals: number }

/** The prior as numbers of animals, ascending. */
export function priorBeliefs(count: MoultCount): Belief[] {
  const { typical, oneFewerShare, oneMoreShare } = count
  const known = new Map([
    [typical - 1, oneFewerShare],
    [typical, 1 - oneFewerShare - oneMoreShare],
    [typical + 1, oneMoreShare],
  ])
  return Array.from({ length: 2 * FURTHEST + 1 }, (_, index) => typical - FURTHEST + index)
    .filter((totalMoults) => totalMoults >= FEWEST_MOULTS)
    .map((totalMoults) => ({
      totalMoults,
      animals: Math.max(UNHEARD_OF_ANIMALS, PROFILE_ANIMALS * (known.get(totalMoults) ?? 0)),
    }))
}

/** Numbers off the scale count for its nearest end. */
export function tallyAt(
  beliefs: readonly Belief[],
  at: number,
  sightings: readonly Sighting[],
): { ended: number; went: number } {
  const { totalMoults } = beliefs[at]!
  const last = beliefs.at(-1)!.totalMoults
  const isHere = (moults: number) =>
    moults === totalMoults || (at === 0 && moults < totalMoults) || (totalMoults === last && moults > last)
  let [ended, went] = [0, 0]
  for (const { moults, isAdult, weight } of sightings) {
    if (isAdult && isHere(moults)) ended += weight
    else if (moults > totalMoults || (!isAdult && moults === totalMoults)) went += weight
  }
  return { ended, went }
}

/** Means and spreads of a product of betas; exact. */
function sharesOf(count: MoultCount, sightings: readonly Sighting[]): InstarCountShare[] {
  const beliefs = priorBeliefs(count)
  const last = beliefs.at(-1)!.totalMoults
  // Mean and mean square of the chance to get as far as this.
  let [reach, reachSquare] = [1, 1]
  return beliefs.map(({ totalMoults, animals }, index) => {
    const seen = tallyAt(beliefs, index, sightings)
    const ended = animals + seen.ended
    const went = beliefs.slice(index + 1).reduce((sum, later) => sum + later.animals, 0) + seen.went
    const total = ended + went
    const isLast = totalMoults === last
    const [ends, endsSquare] = isLast
      ? [1, 1]
      : [ended / total, (ended * (ended + 1)) / (total * (total + 1))]
    const share = reach * ends
    const sd = Math.sqrt(Math.max(0, reachSquare * endsSquare - share * share))
    reach *= 1 - ends
    reachSquare *= isLast ? 0 : (went * (went + 1)) / (total * (total + 1))
    return { totalMoults, share, sd }
  })
}

/**
 * The profile with the learned numbers of moults, for forecasts: the usual one is the likeliest, those
 * further off count with its neighbours. Days to adult follow the number, so that no instar gets longer or
 * shorter by it. A sex without own adults, or nymphs with wing buds, stays as it is.
 */
export function withLearnedInstarCounts(profile: CareProfile, learned: LearnedInstarCounts): CareProfile {
  const { moultsToAdult, daysToAdult } = profile.growth
  const changed = (sex: SexKnown) => {
    const { shares, adultsSeen, budsSeen = 0 } = learned[sex]
    if (adultsSeen + budsSeen === 0) return { count: moultsToAdult[sex], days: daysToAdult[sex] }
    const value = countOfShares(shares)
    const { typical } = value
    const source = { kind: 'own' as const, note: sayLearnedFrom(adultsSeen, budsSeen) }
    const days = meanInstarDays(profile, sex) * sumOfRelativeLengths(profile, typical)
    const isSame = typical === moultsToAdult[sex].value.typical
    return {
      count: { value, source },
      days: isSame ? daysToAdult[sex] : { ...daysToAdult[sex], value: days },
    }
  }
  const [male, female] = [changed('male'), changed('female')]
  return {
    ...profile,
    growth: {
      ...profile.growth,
      moultsToAdult: { male: male.count, female: female.count },
      daysToAdult: { male: male.days, female: female.days },
    },
  }
}

function sayLearnedFrom(adults: number, budding: number): string {
  if (budding === 0) return `Learned from ${adults} own adults.`
  return `Learned from ${adults === 0 ? '' : `${adults} own adults and `}${budding} own nymphs with wing buds.`
}

type Share = Pick<InstarCountShare, 'totalMoults' | 'share'>

/** The likeliest number as the usual one; those further off count with its neighbours. */
export function countOfShares(shares: readonly Share[]): MoultCount {
  const typical = likeliest(shares)
  const shareOf = (is: (totalMoults: number) => boolean) =>
    shares.filter(({ totalMoults }) => is(totalMoults)).reduce((sum, { share }) => sum + share, 0)
  return {
    typical,
    oneFewerShare: shareOf((totalMoults) => totalMoults < typical),
    oneMoreShare: shareOf((totalMoults) => totalMoults > typical),
  }
}

/** Of equally likely numbers the lower one. */
function likeliest(shares: readonly Share[]): number {
  return shares.reduce((best, one) => (one.share > best.share + 1e-12 ? one : best)).totalMoults
}

function sumOfRelativeLengths(profile: CareProfile, totalMoults: number): number {
  const lengths = profile.growth.relativeLengths.value
  let sum = 0
  for (let moults = 0; moults < totalMoults; moults += 1) sum += relativeLength(lengths, moults, totalMoults)
  return sum
}
