import type { Sex } from '../care-profile/body-length'
import type { RoomSpecies, RoomZone } from './input'

/**
 * Animals that develop alike: same species, zone and sex, and the same expected deviation from the profile
 * to within a twentieth. Their states are put into bins, so that however many there are, a part is played
 * with a bounded number of beginnings.
 */
export type RoomPart = {
  key: string
  species: RoomSpecies
  zone: RoomZone
  sex: Sex
  /** Expected deviation of ln(length) of the species and clutch. */
  logShift: number
  /** By `stage spent` bins. */
  beginnings: PartBeginning[]
  /** Groups with an age since hatch: `count` animals each. */
  groups: { count: number; ageEffectiveDays: number }[]
  /** Sum of squares of animals per clutch over square of their sum: 1 for one clutch, small for many. */
  clutchShare: number
  /** Variance of what is unknown about a clutch, and about the species. */
  clutchVariance: number
  speciesVariance: number
}

export type PartBeginning = {
  moults: number
  isAdult: boolean
  hasWingBuds: boolean
  /** Null: at any point of the stage. */
  spent: number | null
  count: number
}
