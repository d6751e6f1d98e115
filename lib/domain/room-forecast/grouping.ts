import type { DevelopmentParameters } from '../development/parameters'
import { priorParameters } from '../development/parameters'
import { type LearnedDevelopment, parametersOf } from '../development/posterior'
import type { RoomAnimal, RoomGroup, RoomInput, RoomSpecies, RoomZone } from './input'
import type { PartBeginning, RoomPart } from './part'

const SPENT_BIN_DAYS = 1
const LONGEST_SPENT_DAYS = 200
const SHIFT_BIN = 0.05

/** Puts equal states together. O(animals), then no more than a few hundred beginnings per species, zone and sex. */
export function groupRoom(input: RoomInput): RoomPart[] {
  const grouping = new Grouping(input)
  for (const animal of input.animals) grouping.addAnimal(animal)
  for (const group of input.groups) grouping.addGroup(group)
  return grouping.parts()
}

type Open = {
  part: RoomPart
  beginnings: Map<string, PartBeginning>
  groups: Map<number, number>
  byClutch: Map<string, number>
}

type ClutchKnown = { logShift: number; clutchVariance: number; speciesVariance: number }

class Grouping {
  private readonly open = new Map<string, Open>()
  private readonly species: Map<string, RoomSpecies>
  private readonly zones: Map<string, RoomZone>
  private readonly clutches = new Map<string, ClutchKnown>()

  constructor(input: RoomInput) {
    this.species = new Map(input.species.map((one) => [one.id, one]))
    this.zones = new Map(input.zones.map((one) => [one.id, one]))
  }

  addAnimal(animal: RoomAnimal): void {
    const open = this.openFor(animal, animal.sex)
    const spent = animal.spentEffectiveDays === null ? null : binOf(animal.spentEffectiveDays)
    const key = `${animal.moults} ${animal.isAdult} ${animal.hasWingBuds === true} ${spent}`
    const { moults, isAdult, hasWingBuds = false, count = 1 } = animal
    const known = open.beginnings.get(key)
    if (known) known.count += count
    else open.beginnings.set(key, { moults, isAdult, hasWingBuds, spent, count })
    if (animal.clutchId !== null) countClutch(open, animal.clutchId, count)
    // Animals that came from elsewhere are each a clutch of their own.
    else for (let one = 0; one < count; one += 1) countClutch(open, `alone ${open.byClutch.size}`, 1)
  }

  addGroup(group: RoomGroup): void {
    const open = this.openFor(group, 'unsexed')
    const age = binOf(group.ageEffectiveDays)
    open.groups.set(age, (open.groups.get(age) ?? 0) + group.count)
    countClutch(open, group.clutchId ?? `alone ${open.byClutch.size}`, group.count)
  }

  parts(): RoomPart[] {
    return [...this.open.values()]
      .map(({ part, beginnings, groups, byClutch }) => ({
        ...part,
        beginnings: [...beginnings.values()].sort(
          (a, b) => a.moults - b.moults || (a.spent ?? -1) - (b.spent ?? -1),
        ),
        groups: [...groups]
          .sort(([a], [b]) => a - b)
          .map(([ageEffectiveDays, count]) => ({ ageEffectiveDays, count })),
        clutchShare: concentration([...byClutch.values()]),
      }))
      .sort((a, b) => (a.key < b.key ? -1 : 1))
  }

  private openFor(
    standing: { speciesId: string; zoneId: string; clutchId: string | null },
    sex: RoomPart['sex'],
  ): Open {
    const species = found(this.species, standing.speciesId)
    const zone = found(this.zones, standing.zoneId)
    const known = this.clutchKnown(species, standing.clutchId)
    const bin = Math.round(known.logShift / SHIFT_BIN)
    const key = `${species.id}|${zone.id}|${sex}|${bin}`
    const before = this.open.get(key)
    if (before) return before
    const { clutchVariance, speciesVariance } = known
    const part = {
      key,
      species,
      zone,
      sex,
      logShift: bin * SHIFT_BIN,
      beginnings: [],
      groups: [],
      clutchShare: 1,
      clutchVariance,
      speciesVariance,
    }
    const made = { part, beginnings: new Map(), groups: new Map(), byClutch: new Map() }
    this.open.set(key, made)
    return made
  }

  private clutchKnown(species: RoomSpecies, clutchId: string | null): ClutchKnown {
    const isOnRecord = clutchId !== null && species.learned?.clutches[clutchId] !== undefined
    const key = `${species.id}|${isOnRecord ? clutchId : ''}`
    const before = this.clutches.get(key)
    if (before) return before
    const made = clutchKnowledge(clutchParameters(species, isOnRecord ? clutchId : null))
    this.clutches.set(key, made)
    return made
  }
}

/** Learned parameters of a clutch, or the prior where there is nothing to learn from. */
export function clutchParameters(
  { profile, learned }: { profile: RoomSpecies['profile']; learned?: LearnedDevelopment },
  clutchId: string | null,
): DevelopmentParameters {
  return learned ? parametersOf(learned, { clutchId }) : priorParameters(profile)
}

/** The clutch's own unknown growth, and the rest of what moves all clutches together. */
export function clutchKnowledge({ species, clutch, covariance }: DevelopmentParameters): ClutchKnown {
  const both = covariance[0]![0]! + covariance[1]![1]! + 2 * covariance[0]![1]!
  const clutchVariance = Math.min(both, covariance[1]![1]!)
  return { logShift: species + clutch, clutchVariance, speciesVariance: both - clutchVariance }
}

function binOf(effectiveDays: number): number {
  return Math.min(
    LONGEST_SPENT_DAYS,
    Math.round(Math.max(0, effectiveDays) / SPENT_BIN_DAYS) * SPENT_BIN_DAYS,
  )
}

function countClutch(open: Open, clutchId: string, count: number): void {
  open.byClutch.set(clutchId, (open.byClutch.get(clutchId) ?? 0) + count)
}

function concentration(counts: readonly number[]): number {
  const sum = counts.reduce((total, count) => total + count, 0)
  return sum > 0 ? counts.reduce((total, count) => total + count * count, 0) / (sum * sum) : 1
}

function found<T>(known: ReadonlyMap<string, T>, id: string): T {
  const value = known.get(id)
  if (value === undefined) throw new RangeError(`not in the room: ${id}`)
  return value
}
