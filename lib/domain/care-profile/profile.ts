import type { BySex, Range, Sourced } from './value'

/**
 * What the computations and the care sheet know about a species. Plain JSON, stored whole per version.
 * Units stand in the names; a *day to adult* is a day at `referenceC`. Numbers of moults are counted since
 * hatch, so a species with 7 moults to adult has 7 nymphal instars.
 */
export type CareProfile = {
  growth: GrowthValues
  breeding: BreedingValues
  hatch: HatchValues
  keeping: KeepingValues
  separation: SeparationValues
  housing: HousingValues
  handling: HandlingValues
  feeding: FeedingValues
  dispatch: DispatchValues
}

/** How many moults lead to the adult: the usual number, and which share needs one fewer or one more. */
export type MoultCount = { typical: number; oneFewerShare: number; oneMoreShare: number }

/** Length of each nymphal instar as a multiple of the mean instar. The last two names win over the first three. */
export type RelativeLengths = {
  first: number
  second: number
  third: number
  middle: number
  beforeLast: number
  last: number
}

/** Chance of living through each instar, singly kept and fed; `finalMoult` is that of the last nymphal one. */
export type InstarSurvival = {
  first: number
  second: number
  third: number
  later: number
  finalMoult: number
}

export type GrowthValues = {
  moultsToAdult: BySex<Sourced<MoultCount>>
  daysToAdult: BySex<Sourced<number>>
  relativeLengths: Sourced<RelativeLengths>
  /** Standard deviation of the logarithm of one instar's length between siblings. */
  siblingLogSd: Sourced<number>
  survival: Sourced<InstarSurvival>
  lowerThresholdC: Sourced<number>
  lowerThresholdSdC: Sourced<number>
  referenceC: Sourced<number>
  upperThresholdC: Sourced<number>
}

export type BreedingValues = {
  readyAfterDays: BySex<Sourced<number>>
  firstEggCaseDays: Sourced<Range>
  eggCases: Sourced<Range & { intervalDays: number }>
  /** Share of the expected adult life after which mating time is over. */
  matingEndsAtLifeShare: Sourced<number>
}

/** 'none', 'optional', or 'cold-strains' (required where the strain comes from a cold place). */
export type ColdRestNeed = 'none' | 'optional' | 'cold-strains'

export type ColdRestValue = {
  need: ColdRestNeed
  minWeeks: number
  maxWeeks: number
  minC: number
  maxC: number
  /** Do the days before the rest count towards the hatch? Otherwise the clock starts when the rest ends. */
  hasCountingDaysBefore: boolean
}

export type HatchValues = {
  nymphs: Sourced<Range & { typical: number }>
  /** Read as the 10–90 % range of days at the mean of the two temperatures. */
  incubation: Sourced<{ minDays: number; maxDays: number; minC: number; maxC: number }>
  coldRest: Sourced<ColdRestValue>
  fertileShare: Sourced<number>
}

export type KeepingValues = {
  bodyLengthMm: Sourced<{ hatchling: number; adultMale: number; adultFemale: number }>
  dayC: Sourced<Range>
  /** A basking spot up to this temperature, null where none is wanted. */
  hotSpotC: Sourced<number | null>
  lowestNightC: Sourced<number>
  humidityPct: Sourced<Range>
  mistingEveryDays: Sourced<number>
  adultLifeWeeks: BySex<Sourced<Range>>
}

export type Tolerance = 'tolerant' | 'usual' | 'fierce'

export type SeparationValues = {
  /** Moult number at which siblings should be apart; null for colony species. */
  apartAtMoults: Sourced<number | null>
  /** May they live together where space, food and equal size allow? */
  allowsColony: Sourced<boolean>
  tolerance: Sourced<Tolerance>
  /** Share of animals lost per animal and day in a fed group of equals, by instar; the last goes on. */
  riskPerDay: Sourced<number[]>
  toleranceFactors: Sourced<{ tolerant: number; usual: number; fierce: number }>
  sizeGapFactor: Sourced<number>
  hungerRiskPerDay: Sourced<number>
}

export type HousingValues = {
  /** All as multiples of the body length. */
  heightFactor: Sourced<number>
  widthFactor: Sourced<number>
  hangSpaceFactor: Sourced<number>
  finalHangSpaceFactor: Sourced<number>
}

export type HandlingValues = {
  hardeningDays: Sourced<{ nymph: number; adult: number }>
  saleFromMoults: Sourced<number>
  beginnersFromMoults: Sourced<number>
  /** Sex is probable from the first and certain from the second number of moults. */
  sexing: Sourced<{ probableFromMoults: number; certainFromMoults: number }>
}

export const PREY_ITEMS = [
  'melanogaster',
  'hydei',
  'house-fly',
  'bottle-fly',
  'micro-cricket',
  'small-cricket',
  'medium-cricket',
  'moth',
  'locust-hopper',
  'roach-nymph',
] as const

export type PreyItem = (typeof PREY_ITEMS)[number]

/** One way to feed an animal: so many of one item within so many days. */
export type PreyPortion = { item: PreyItem; min: number; max: number; perDays: number }

/** What nymphs from this body length on are given, first choice first. */
export type FeedingRung = { fromLengthMm: number; portions: PreyPortion[] }

export type FeedingValues = {
  nymphRungs: Sourced<FeedingRung[]>
  adultPortions: Sourced<{ small: PreyPortion[]; large: PreyPortion[] }>
  /** Adults above this length are fed as large ones. */
  largeFromMm: Sourced<number>
  /** Large males eat this share of what females eat. */
  maleShare: Sourced<number>
  /** Days between offerings: hatchling to 3rd instar, later nymphs, adults. */
  everyDays: Sourced<{ young: number; older: number; adult: number }>
  avoids: Sourced<PreyItem[]>
  /** Longest prey as a share of the body length. */
  preyLengthShare: Sourced<number>
}

export type Origin = 'temperate' | 'tropical'

export type DispatchValues = {
  origin: Sourced<Origin>
  region: Sourced<string>
  /** Forecast air, night and depot included. Below `plainMinC` with a heat pack, above `plainMaxC` with a cool pack. */
  gate: Sourced<{
    plainMinC: number
    plainMaxC: number
    heatPackMinC: number
    insulatedMinC: number
    coolPackMaxC: number
  }>
}
