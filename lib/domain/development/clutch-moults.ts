import type { CareProfile, MoultCount } from '../care-profile/profile'
import {
  type Belief,
  countOfShares,
  priorBeliefs,
  SIBLING_LIKENESS,
  type Sighting,
  sightingsOf,
  tallyAt,
  weighSiblings,
} from './instar-count'
import type { SexKnown } from './instar-length'
import type { DevelopmentRecord } from './record'

/** Numbers of moults of one clutch, where its own animals say something of them. */
export type ClutchMoultCounts = Record<SexKnown, MoultCount>

/** Nearer to what holds for the species than this says nothing. */
const SAME_SHARE = 0.005

/**
 * What siblings say of each other, by clutch: with a correlation ρ between siblings the chance that a moult is the
 * final one is a beta around that of all *other* clutches, worth 1/ρ − 1 animals, and each sibling that became adult
 * by it, showed wing buds before it or went on past it counts whole. Clutches whose shares stay as they are are left
 * out. O(records + clutches × numbers of moults).
 */
export function learnClutchCounts(
  profile: CareProfile,
  records: readonly DevelopmentRecord[],
): Record<string, ClutchMoultCounts> {
  const seen = records.flatMap((record) => sightingsOf(profile, record))
  const weighed = weighSiblings(seen)
  const families = [...new Set(records.flatMap(({ clutchId }) => clutchId ?? []))]
  const [ofMales, ofFemales] = (['male', 'female'] as const).map((sex) => {
    const count = profile.growth.moultsToAdult[sex].value
    const beliefs = priorBeliefs(count)
    const all = tallyByFamily(
      beliefs,
      weighed.filter((sighting) => sighting.sex === sex),
    )
    const own = tallyByFamily(
      beliefs,
      seen.filter((sighting) => sighting.sex === sex),
    )
    const total = [...all.values()].reduce(addTallies, noTally(beliefs))
    return (family: string) => clutchCount(beliefs, { total, shared: all.get(family), own: own.get(family) })
  })
  return Object.fromEntries(
    families.flatMap((family) => {
      const [male, female] = [ofMales!(family), ofFemales!(family)]
      return male.isOwn || female.isOwn ? [[family, { male: male.count, female: female.count }]] : []
    }),
  )
}

/** By number of moults: animals that ended with it, and that went on past it. */
type Tally = { ended: number; went: number }[]

function noTally(beliefs: readonly Belief[]): Tally {
  return beliefs.map(() => ({ ended: 0, went: 0 }))
}

function addTallies(a: Tally, b: Tally): Tally {
  return a.map(({ ended, went }, index) => ({ ended: ended + b[index]!.ended, went: went + b[index]!.went }))
}

function tallyByFamily(beliefs: readonly Belief[], sightings: readonly Sighting[]): Map<string, Tally> {
  const byFamily = new Map<string, Sighting[]>()
  for (const sighting of sightings) {
    const known = byFamily.get(sighting.family)
    if (known) known.push(sighting)
    else byFamily.set(sighting.family, [sighting])
  }
  return new Map(
    [...byFamily].map(([family, own]) => [family, beliefs.map((_, at) => tallyAt(beliefs, at, own))]),
  )
}

function clutchCount(
  beliefs: readonly Belief[],
  seen: { total: Tally; shared: Tally | undefined; own: Tally | undefined },
): { count: MoultCount; isOwn: boolean } {
  const { total, shared = noTally(beliefs), own = noTally(beliefs) } = seen
  const worth = 1 / SIBLING_LIKENESS - 1
  const chances = beliefs.map(({ animals }, at) => {
    const later = beliefs.slice(at + 1).reduce((sum, belief) => sum + belief.animals, 0)
    const ended = animals + total[at]!.ended - shared[at]!.ended
    const went = later + total[at]!.went - shared[at]!.went
    return at === beliefs.length - 1 ? 1 : ended / (ended + went)
  })
  const usual = countOfShares(chainOf(beliefs, chances))
  const updated = chances.map((chance, at) => {
    const { ended, went } = own[at]!
    return at === beliefs.length - 1 ? 1 : (worth * chance + ended) / (worth + ended + went)
  })
  const count = countOfShares(chainOf(beliefs, updated))
  const isOwn =
    count.typical !== usual.typical ||
    Math.abs(count.oneFewerShare - usual.oneFewerShare) > SAME_SHARE ||
    Math.abs(count.oneMoreShare - usual.oneMoreShare) > SAME_SHARE
  return { count, isOwn }
}

/** Shares from the chances that a moult is the final one for who has got as far. */
function chainOf(beliefs: readonly Belief[], chances: readonly number[]) {
  let reach = 1
  return beliefs.map(({ totalMoults }, at) => {
    const share = reach * chances[at]!
    reach -= share
    return { totalMoults, share }
  })
}
