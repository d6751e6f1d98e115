import { maxDate, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { selfRatedWindow } from '../development/forecast'
import type { SelfRatedWindow } from '../development/window'
import type { KeptClutch } from '../growth/evidence'
import { fitGrowth, type GrowthFit, hasEvidence } from '../growth/fit'
import type { KeptEggCase } from '../growth/hatch-evidence'
import { type HatchInput, selfRatedHatchWindow } from '../hatch/forecast'
import { learnedHatchInput } from '../hatch/learning'
import { instarStart } from '../individual/instar-start'
import { developmentInput, inputOf } from '../individual/outlook'
import { moultsOf, recordAsOf } from '../individual/record'
import type { InstarNaming } from '../instar/label'
import { historyOfZoneStays, staysAsOf, type ZonesById, zonesAsOf } from '../zone/history'
import { futureSpreadC } from '../zone/spread'
import {
  type DatedAnimal,
  type DatedEvidence,
  evidenceAsOf,
  fittedOn,
  knownOnOf,
  type PastMonth,
} from './month'

/**
 * The windows that were given in one past month, from nothing but what was known then. What had been learned is that
 * of the day before the month; each animal's own record, its places and the temperatures are those of the very day.
 * One window an instar, on the day it was noticed to have begun (or on which the animal's record begins); one for the
 * final moult, on the first such day with FINAL_FROM moults; one an egg case, when it came here or left its cold rest.
 * So every window counts once, and slow animals no more often than quick ones.
 */
export type GivenWindow = SelfRatedWindow & {
  kind: WindowKind
  /** The animal's or the egg case's id. */
  subjectId: string
  /** Moults made when it was given; 0 for an egg case. */
  moults: number
  givenOn: PlainDate
}

export const WINDOW_KINDS = ['next-moult', 'final-moult', 'hatch'] as const
export type WindowKind = (typeof WINDOW_KINDS)[number]

/** From here on an animal's final moult is asked about; earlier it is months away. */
const FINAL_FROM = 3
/** Of very many windows in a month so many of each kind, evenly over the animals. */
const MOST_OF_KIND = 400

export type PastRecords = { profile: CareProfile; evidence: DatedEvidence; zones: ZonesById }

/** What was given in a month, and how many completed instars it rested on. */
export type MonthOfWindows = { windows: GivenWindow[]; instarsSeen: number }

type Ground = PastRecords & {
  month: PastMonth
  fit: GrowthFit | null
  clutches: ReadonlyMap<string, KeptClutch>
  zonesOn: (day: PlainDate) => ZonesById
}

/** Yields between windows, so that whoever runs it can let others in. O(records), each window about a millisecond. */
export function* givenWindows(
  records: PastRecords,
  month: PastMonth,
): Generator<undefined, MonthOfWindows, undefined> {
  const ground = layGround(records, month)
  yield
  const windows: GivenWindow[] = []
  for (const asked of thinned(listAsked(ground))) {
    const window = asked.give()
    if (window) windows.push({ ...asked.window, ...window })
    yield
  }
  return { windows, instarsSeen: ground.fit?.development.instarsSeen ?? 0 }
}

function layGround(records: PastRecords, month: PastMonth): Ground {
  const { profile, evidence, zones } = records
  const asOf = fittedOn(month)
  const known = evidenceAsOf(evidence, asOf)
  const fit = hasEvidence(known) ? fitGrowth(profile, known, { zones: zonesAsOf(zones, asOf), asOf }) : null
  const days = new Map<PlainDate, ZonesById>()
  const zonesOn = (day: PlainDate) => {
    const before = days.get(day)
    if (before) return before
    const made = zonesAsOf(zones, day)
    days.set(day, made)
    return made
  }
  const clutches = new Map(evidence.clutches.map((clutch) => [clutch.id, clutch]))
  return { ...records, month, fit, clutches, zonesOn }
}

type Asked = { window: Omit<GivenWindow, keyof SelfRatedWindow>; give: () => SelfRatedWindow | null }

function listAsked(ground: Ground): Asked[] {
  return [
    ...ground.evidence.animals.flatMap((animal) => askedOfAnimal(animal, ground)),
    ...ground.evidence.eggCases.flatMap((eggCase) => askedOfEggCase(eggCase, ground)),
  ]
}

function thinned(asked: readonly Asked[]): Asked[] {
  return WINDOW_KINDS.flatMap((kind) => {
    const own = asked.filter(({ window }) => window.kind === kind)
    const step = Math.max(1, own.length / MOST_OF_KIND)
    return own.filter((_, index) => Math.floor(index / step) !== Math.floor((index - 1) / step))
  })
}

/** Its record as it was known on a day; null where an earlier moult was entered after a later one. */
function knownRecord(animal: DatedAnimal, on: PlainDate): DatedAnimal | null {
  const known = animal.moults.filter((moult) => knownOnOf(moult) <= on)
  return animal.moults[known.length - 1] === known.at(-1)
    ? recordAsOf({ ...animal, moults: known }, on)
    : null
}

/** The days on which an instar of this animal was known to have begun, with the moults made by then. */
function listOccasions(animal: DatedAnimal): { on: PlainDate; moults: number }[] {
  const days = [animal.baselineOn, ...animal.moults.map(knownOnOf)]
  return [...new Set(days)]
    .sort()
    .map((on) => ({ on, record: knownRecord(animal, on) }))
    .filter((occasion): occasion is { on: PlainDate; record: DatedAnimal } => occasion.record !== null)
    .filter(({ record }) => record.adultSinceOn === null)
    .map(({ on, record }) => ({ on, moults: moultsOf(record) }))
}

function askedOfAnimal(animal: DatedAnimal, ground: Ground): Asked[] {
  const occasions = listOccasions(animal)
  const finalFrom = occasions.find(({ moults }) => moults >= FINAL_FROM)
  return occasions
    .filter(({ on }) => isWithin(on, ground.month))
    .flatMap((occasion) => {
      const { on: givenOn, moults } = occasion
      const window = { subjectId: animal.id, moults, givenOn }
      const ask = (kind: WindowKind, ahead: 1 | 'final'): Asked => ({
        window: { ...window, kind },
        give: () => windowOfAnimal(animal, ground, { givenOn, ahead }),
      })
      const next = ask('next-moult', 1)
      return occasion === finalFrom ? [next, ask('final-moult', 'final')] : [next]
    })
}

const isWithin = (on: PlainDate, { from, until }: PastMonth) => on >= from && on < until

// Words are not made here, so it does not matter how instars are called.
const NAMING: InstarNaming = { convention: 'hatchling-is-first', style: 'ordinal' }

function windowOfAnimal(
  animal: DatedAnimal,
  ground: Ground,
  { givenOn, ahead }: { givenOn: PlainDate; ahead: 1 | 'final' },
): SelfRatedWindow | null {
  const { profile, fit, zonesOn, clutches } = ground
  const clutch = animal.clutchId === null ? undefined : clutches.get(animal.clutchId)
  const lived = {
    ...(knownRecord(animal, givenOn) ?? animal),
    sex: sexKnownOn(animal, givenOn, profile),
    clutchStays: clutch?.stays ?? [],
    hatchedUntilOn: clutch?.hatchedUntilOn ?? null,
  }
  const input = inputOf(lived, {
    profile: fit ? { ...profile, growth: fit.growth } : profile,
    zones: zonesOn(givenOn),
    naming: NAMING,
    today: givenOn,
    learned: fit?.development ?? null,
  })
  if (input.history.length === 0) return null
  return selfRatedWindow(developmentInput(input, instarStart(input.record, input)), ahead)
}

/** When an animal was sexed is not on record: before its sex can be told it counts as not known. */
function sexKnownOn(animal: DatedAnimal, on: PlainDate, profile: CareProfile): DatedAnimal['sex'] {
  const { probableFromMoults } = profile.handling.sexing.value
  return moultsOf(recordAsOf(animal, on)) < probableFromMoults ? 'unsexed' : animal.sex
}

function askedOfEggCase(eggCase: KeptEggCase, ground: Ground): Asked[] {
  const givenOn = occasionOf(eggCase)
  if (givenOn === null || !isWithin(givenOn, ground.month)) return []
  const window = { kind: 'hatch' as const, subjectId: eggCase.id, moults: 0, givenOn }
  return [{ window, give: () => windowOfEggCase(eggCase, ground, givenOn) }]
}

/** The end of its cold rest where it had one, else the day it came here. */
function occasionOf({ coldRest, stays, laid }: KeptEggCase): PlainDate | null {
  if (laid === null) return null
  if (coldRest) return coldRest.endedOn
  const here = stays[0]?.from
  if (!here) return null
  const laidBy = laid.kind === 'range' ? laid.until : laid.on
  return maxDate(here, laidBy)
}

function windowOfEggCase(eggCase: KeptEggCase, ground: Ground, givenOn: PlainDate): SelfRatedWindow | null {
  const { profile, fit, zonesOn } = ground
  const { laid, coldRest, motherId } = eggCase
  const stays = staysAsOf(eggCase.stays, givenOn)
  const history = historyOfZoneStays(stays, zonesOn(givenOn))
  if (laid === null || history.length === 0) return null
  const learned = fit ? learnedHatchInput(fit.hatch, { femaleId: motherId }) : {}
  const input: HatchInput = {
    profile: fit ? { ...profile, growth: fit.growth } : profile,
    laid,
    coldRest,
    history,
    today: givenOn,
    futureTemperatureSdC: futureSpreadC(stays, zonesOn(givenOn), givenOn),
    ...learned,
  }
  return selfRatedHatchWindow(input)
}
