import type { PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import type { TemperatureHistory } from '../development/clock'
import type { LearnedDevelopment } from '../development/posterior'
import type { HatchInput } from '../hatch/forecast'

/** What stands in the room today, what will hatch, and what will be sold. */
export type RoomInput = {
  today: PlainDate
  /** Up to 364. */
  days: number
  species: readonly RoomSpecies[]
  zones: readonly RoomZone[]
  animals: readonly RoomAnimal[]
  groups: readonly RoomGroup[]
  eggCases: readonly RoomEggCase[]
  sales: readonly PlannedSale[]
}

export type RoomSpecies = { id: string; profile: CareProfile; learned?: LearnedDevelopment }

/** Temperatures ahead; how far they may stray, °C. */
export type RoomZone = { id: string; history: TemperatureHistory; futureTemperatureSdC?: number }

type Standing = { speciesId: string; zoneId: string; clutchId: string | null }

/**
 * An animal with a record, or `count` of them with the same one. Effective days since the last moult, or since the
 * final one; null where nobody knows.
 */
export type RoomAnimal = Standing & {
  count?: number
  sex: Sex
  moults: number
  isAdult: boolean
  hasWingBuds?: boolean
  spentEffectiveDays: number | null
}

/** Siblings together of whom only the number and their age since hatch are known. */
export type RoomGroup = Standing & { count: number; ageEffectiveDays: number }

/** Nymphs if it hatches: mean and variance, from the hatch learning or the profile. */
export type RoomEggCase = {
  speciesId: string
  zoneId: string
  hatch: Omit<HatchInput, 'today' | 'profile' | 'history' | 'futureTemperatureSdC'>
  /** The temperatures it has lived through where it hung elsewhere before; those of its zone otherwise. */
  history?: TemperatureHistory
  nymphs: { mean: number; variance: number }
}

/** So many of one stage leave the room on a day. */
export type PlannedSale = {
  on: PlainDate
  speciesId: string
  sex: Sex
  moults: number
  isAdult: boolean
  count: number
}

export const MOST_DAYS = 364
