import type { CareProfile } from '../care-profile/profile'
import { type HousedAnimal, type HousingNeed, hasRoom, housingNeed } from '../care-sheet/housing'

/** A kind of container by its inner measures. */
export type SizedKind = { id: string; innerHeightMm: number; innerWidthMm: number; single: boolean }

/** In a container so many times too high a nymph and its prey no longer meet (default). */
const LARGEST_TIMES = 5

export function fits(kind: SizedKind, need: HousingNeed): boolean {
  return hasRoom(need, { heightMm: kind.innerHeightMm, widthMm: kind.innerWidthMm })
}

/**
 * The kinds for one animal that are large enough and not lost in, smallest first; the smallest that is large
 * enough is always among them.
 */
export function fittingKinds<Kind extends SizedKind>(
  kinds: readonly Kind[],
  profile: CareProfile,
  animal: HousedAnimal,
): Kind[] {
  const need = housingNeed(profile, animal)
  const large = kinds.filter((kind) => kind.single && fits(kind, need)).sort(smallestFirst)
  return large.filter((kind, place) => place === 0 || kind.innerHeightMm <= LARGEST_TIMES * need.heightMm)
}

function smallestFirst(one: SizedKind, other: SizedKind): number {
  return one.innerHeightMm - other.innerHeightMm || one.innerWidthMm - other.innerWidthMm
}
