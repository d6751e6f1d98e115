import type { PlainDate } from '@/lib/domain/calendar/date'
import type { PreyItem, PreyPortion } from '@/lib/domain/care-profile/profile'
import type { Paper } from '@/lib/domain/care-sheet/paper'
import type { Language } from '@/lib/messages/language'
import type { SexKnown, StageOfLife } from '../wording/animal'
import type { Units } from '../wording/units'

/**
 * Everything one care sheet says, as plain values: the care profile version in force and this animal's own
 * records, already chosen. What is undefined or null is left out of the sheet, never filled in.
 */
export type CareSheetPayload = {
  language: Language
  paper: Paper
  units: Units
  printedOn: PlainDate
  handedOverOn?: PlainDate | null
  seller: SheetSeller
  /** Where the seller is, for the kind of duty that the sheet names (ISO 3166). */
  country?: string | null
  species: SheetSpecies
  animal: SheetAnimal
  /** Several animals on one sheet; `animal` is then the smallest of them, since prey has to fit that one. */
  lot?: LotAnimal[] | null
  /** The sheet is of an egg case; `animal` then only carries its label. */
  eggCase?: SheetEggCase | null
  timeline?: SheetTimeline | null
  moult?: SheetMoult | null
  calendar?: SheetCalendarDay[] | null
  /** The windows marked in the calendar, one by one, since they may overlap; without them they are read off the days. */
  moultsToCome?: SheetWindow[] | null
  food?: SheetFood | null
  home?: SheetHome | null
  climate?: SheetClimate | null
  /** Address of the animal's public page, for the code on the sheet. Ours, never typed by a person. */
  publicPageUrl?: string | null
  profileVersion?: number | null
  /** Set when a sheet of it was printed before: when, and from which version of the care profile. */
  reprint?: { firstOn: PlainDate; profileVersion?: number | null } | null
}

export type LotAnimal = SexKnown & { labelCode: string; stage?: StageOfLife | null }

/** An egg case as it is handed over: when it was laid or came, when its young may come, how many are usual. */
export type SheetEggCase = {
  laid?: SheetWindow | null
  receivedOn?: PlainDate | null
  hatch?: SheetWindow | null
  nymphs?: { min: number; max: number } | null
  incubationC?: { min: number; max: number } | null
  /** Set while it rests in the cold. */
  restUntilOn?: PlainDate | null
  restC?: { min: number; max: number } | null
  /** Some strains of the species rest in the cold, and nothing is on record about this one. */
  mayNeedRest?: boolean
  /** False where the profile lets siblings stay together for longer. */
  partsEarly?: boolean
}

/** Name, contact and terms exactly as the seller chose to show them. */
export type SheetSeller = {
  name: string
  contact?: string | null
  claimTerms?: string | null
  /** What it sells as food, in its own words. */
  foodText?: string | null
}

export type SheetSpecies = {
  scientificName: string
  commonName?: string | null
  /** Text about mantises is printed for mantises only. */
  kind: 'mantis' | 'other'
  /** `proof-of-origin`: protected in some places. Both only name the kind of duty and defer to the authority. */
  legalNote?: 'general' | 'proof-of-origin' | null
}

export type SheetAnimal = SexKnown & {
  labelCode: string
  /** Null where the profile defines no instars. */
  stage?: StageOfLife | null
  bodyLengthMm?: number | null
  hatchedOn?: PlainDate | null
  lastMoultOn?: PlainDate | null
  /** `prey` is an item of the profile, or what the keeper wrote. */
  lastFed?: { on: PlainDate; prey?: PreyItem | string | null } | null
  /** Undefined: not a question at this stage. */
  mated?: 'yes' | 'no' | 'unknown' | null
  injuries?: string | null
  note?: string | null
  photo?: { bytes: Uint8Array; kind: 'png' | 'jpg' | 'webp' } | null
}

/** One instar in the past, or the running one (`to` null). */
export type SheetStep = {
  moults: number
  isAdult: boolean
  from: PlainDate
  to: PlainDate | null
  lengthMm: number
}

export type SheetTimeline = { steps: SheetStep[] }

/** The window of the next moult, 10–90 %, and how long to leave the animal alone. */
export type SheetMoult = {
  fromOn?: PlainDate | null
  likelyOn?: PlainDate | null
  toOn?: PlainDate | null
  /** End of the leave-alone time around the expected moult. */
  leaveAloneUntilOn?: PlainDate | null
  /** Set while the animal is still soft from the last one. */
  softUntilOn?: PlainDate | null
  /** Length after the next moult, for the height of the expected step. */
  nextLengthMm?: number | null
}

export type SheetCalendarDay = { on: PlainDate; kind: 'moult' | 'feed' | 'none' }

export type SheetWindow = { fromOn: PlainDate; toOn: PlainDate }

export type SheetFood = {
  /** Alternatives, first choice first. */
  now?: PreyPortion[] | null
  next?: PreyPortion[] | null
  longestPreyMm?: number | null
  soldHere?: PreyItem[] | null
}

export type SheetSpace = { heightMm: number; widthMm: number }

export type SheetHome = { now?: SheetSpace | null; next?: SheetSpace | null; hangSpaceMm?: number | null }

export type SheetClimate = {
  dayC?: { min: number; max: number } | null
  lowestNightC?: number | null
  hotSpotC?: number | null
  humidityPct?: { min: number; max: number } | null
  mistingEveryDays?: number | null
  adultLifeWeeks?: { min: number; max: number } | null
}
