import { bodyLengthMm, type Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'

/**
 * Who may live together in a colony, where the care profile allows it: animals of one species, nobody more than one
 * instar from another, and no more than there is room for.
 */
export type ColonyLine = { sex: Sex; moults: number; isAdult: boolean; animals: number }
export type StageSpan = { least: number; most: number }

/** Each animal needs a cube of so many body lengths (default). */
const CUBE_LENGTHS = 3
const MM3_PER_ML = 1000

/** How many animals of a length there is room for: one in each (3 × length)³. Whole animals, rounded down. */
export function colonyCapacity(volumeMl: number, lengthMm: number): number {
  if (lengthMm <= 0) throw new RangeError(`no animal is ${lengthMm} mm long`)
  return Math.floor((volumeMl * MM3_PER_ML) / (CUBE_LENGTHS * lengthMm) ** 3)
}

/** The length that the room is judged by: of the largest animal there may be among those of a span of stages. */
export function largestLengthMm(profile: CareProfile, { most }: StageSpan): number {
  return Math.max(
    bodyLengthMm(profile, { sex: 'male', moults: most }),
    bodyLengthMm(profile, { sex: 'female', moults: most }),
  )
}

/** From the least to the most moults among animals that were counted; null where nobody is. */
export function spanOf(lines: readonly ColonyLine[]): StageSpan | null {
  const moults = lines.filter(({ animals }) => animals > 0).map((line) => line.moults)
  return moults.length === 0 ? null : { least: Math.min(...moults), most: Math.max(...moults) }
}

export function widenSpan(one: StageSpan | null, other: StageSpan | null): StageSpan | null {
  if (!one || !other) return one ?? other
  return { least: Math.min(one.least, other.least), most: Math.max(one.most, other.most) }
}

/** More than one instar from the smallest to the largest: they may eat each other. */
export function isTooWide({ least, most }: StageSpan): boolean {
  return most - least > 1
}

/** Below this share of siblings a stage is not spoken of. */
const LEAST_SHARE = 0.1

/** The stages siblings are probably in, from their expected shares by moults made. */
export function likelySpan(shares: readonly number[]): StageSpan {
  const likely = shares.flatMap((share, moults) => (share >= LEAST_SHARE ? [moults] : []))
  const likeliest = Math.max(0, shares.indexOf(Math.max(...shares, 0)))
  return { least: likely[0] ?? likeliest, most: likely.at(-1) ?? likeliest }
}

/** Moults that an adult is reckoned to have made: the usual number for its sex, and the higher where nobody knows. */
export function adultMoults(profile: CareProfile, sex: Sex): number {
  const { male, female } = profile.growth.moultsToAdult
  if (sex === 'male') return male.value.typical
  if (sex === 'female') return female.value.typical
  return Math.max(male.value.typical, female.value.typical)
}

/** As lots are written: males.females.unsexed. */
export function writeLot(lines: readonly Pick<ColonyLine, 'sex' | 'animals'>[]): string {
  const sumOf = (sex: Sex) =>
    lines.filter((line) => line.sex === sex).reduce((sum, { animals }) => sum + animals, 0)
  return `${sumOf('male')}.${sumOf('female')}.${sumOf('unsexed')}`
}
