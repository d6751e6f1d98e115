import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import { bodyLengthMm, type Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import type { TemperatureHistory } from '../development/clock'
import {
  type ComingMoult,
  chanceWithin,
  type DevelopmentInput,
  forecastAdult,
  forecastMoultSeries,
  forecastNextMoult,
  type MoultForecast,
  type NextWindow,
} from '../development/forecast'
import { hardeningUntil } from '../development/hardening'
import { type PossibleStart, possibleStarts, startsWithin } from '../development/possible-start'
import {
  type LearnedDevelopment,
  type LearnedSubject,
  learnedFrom,
  parametersOf,
} from '../development/posterior'
import { type InstarStart, type MoultTimeline, moultTimeline } from '../development/timeline'
import { listStarts, livedStays } from '../growth/evidence'
import { type InstarNaming, instarLabel } from '../instar/label'
import { historyOfZoneStays, type Stay, type ZonesById } from '../zone/history'
import { futureSpreadC } from '../zone/spread'
import { hasWingBuds, refusedFoodOn } from './growth-sign'
import { type InstarStartKnown, instarStart } from './instar-start'
import { type GrowthRecord, lastMoultOn, latestHatchOn, moultsOf, recordAsOf } from './record'

/** What it last ate and refused, where that is known: refusing food comes before a moult. */
export type FedRecord = GrowthRecord & { lastFedOn?: PlainDate | null; lastRefusedOn?: PlainDate | null }

export type OutlookInput = {
  profile: CareProfile
  sex: Sex
  record: FedRecord
  /** Temperatures lived through and ahead; empty where no zone has any. */
  history: TemperatureHistory
  naming: InstarNaming
  today: PlainDate
  /** What the workspace's own records say of the species, and whose own effects count; the profile alone where null. */
  learned: LearnedDevelopment | null
  subject: LearnedSubject
  /** How far its zone is expected to stray from what it is set to; the default where nobody has measured. */
  futureTemperatureSdC?: number
}

/**
 * `soft` after a moult, `window` while one may come any day, `overdue` past nearly every animal's time,
 * `quiet` in between, `adult`, and `unknown` where nothing can be forecast.
 */
export type MoultState = 'soft' | 'window' | 'overdue' | 'quiet' | 'adult' | 'unknown'

/** Everything that follows from one animal's record on a day. */
export type Outlook = {
  moults: number
  isAdult: boolean
  stage: string
  lengthMm: number
  lastMoultOn: PlainDate | null
  /** Null where no temperature is known. */
  start: InstarStartKnown | null
  nextMoult: MoultForecast | null
  /** First day on which it may be handled again; null when it is not soft. */
  softUntil: PlainDate | null
  state: MoultState
  timeline: MoultTimeline | null
}

/** From this chance of a moult within a day on, the animal is left alone. */
const WINDOW_CHANCE_TOMORROW = 0.03

export function individualOutlook(input: OutlookInput): Outlook {
  const { profile, sex, record, naming, today } = input
  const moults = moultsOf(record)
  const isAdult = record.adultSinceOn !== null
  const softUntil = softUntilOf(input)
  const common = {
    moults,
    isAdult,
    stage: instarLabel(moults, naming, { isAdult }),
    lengthMm: bodyLengthMm(profile, { sex, moults, isAdult }),
    lastMoultOn: lastMoultOn(record),
    softUntil,
  }
  if (input.history.length === 0) {
    const state = softUntil ? 'soft' : isAdult ? 'adult' : 'unknown'
    return { ...common, start: null, nextMoult: null, state, timeline: null }
  }
  const start = instarStart(record, input)
  const development = developmentInput(input, start)
  const nextMoult = explained(forecastNextMoult(development), start, today)
  return {
    ...common,
    start,
    nextMoult,
    state: softUntil ? 'soft' : stateOf(windowOf(nextMoult), today),
    timeline: moultTimeline({
      profile,
      sex,
      isAdult,
      starts: listShownStarts(record, start),
      forecast: nextMoult,
      naming,
      today,
    }),
  }
}

/** What the forecasts are asked with. */
export function developmentInput(input: OutlookInput, start: InstarStartKnown): DevelopmentInput {
  const { profile, sex, record, history, today, learned, subject, futureTemperatureSdC } = input
  return {
    ...(learned ? learnedPart(learned, subject) : {}),
    possibleStarts: possibleStartsOf(input, start),
    profile,
    sex,
    moults: moultsOf(record),
    isAdult: record.adultSinceOn !== null,
    hasWingBuds: hasWingBuds(record),
    refusedFoodOn: refusedFoodOn(record, today),
    instarStartedOn: start.on,
    history,
    today,
    futureTemperatureSdC,
  }
}

function learnedPart(learned: LearnedDevelopment, subject: LearnedSubject) {
  return { parameters: parametersOf(learned, subject), learnedFrom: learnedFrom(learned, subject) }
}

/** Only where the day is not certain: then it is a span, or a date that the fit has its doubts about. */
function possibleStartsOf(input: OutlookInput, start: InstarStartKnown): PossibleStart[] | undefined {
  const { learned, subject, profile, sex, record, history, today } = input
  if (record.adultSinceOn !== null) return undefined
  const doubts = (subject.animalId && learned?.animals[subject.animalId]?.wrongDates) || []
  const isCertain = start.earliestOn === start.latestOn && doubts.length === 0
  if (isCertain) return undefined
  if (!learned || start.basis === 'estimated') return startsWithin(start.earliestOn, start.latestOn)
  const { clutchId, animalId = '' } = subject
  const evidence = {
    animalId,
    clutchId,
    sex,
    starts: listStarts(record, latestHatchOn(record) ?? undefined),
    runningOn: today,
    isAdult: false,
    history,
  }
  return possibleStarts(evidence, { profile, learned })
}

export function softUntilOf({ profile, record, today }: OutlookInput): PlainDate | null {
  const last = record.moults.at(-1)
  const on = lastMoultOn(record)
  if (!on) return null
  const until = hardeningUntil(profile, {
    lastMoultOn: on,
    isFinal: last?.final ?? record.adultSinceOn === on,
  })
  return today < until ? until : null
}

export function stateOf(next: NextWindow, today: PlainDate): MoultState {
  if (next.status === 'adult') return 'adult'
  if (next.status === 'too-cold') return 'unknown'
  if (next.isOverdue) return 'overdue'
  return next.p10 <= today || next.chanceTomorrow >= WINDOW_CHANCE_TOMORROW ? 'window' : 'quiet'
}

function windowOf(forecast: MoultForecast): NextWindow {
  return forecast.status === 'forecast'
    ? { ...forecast, chanceTomorrow: chanceWithin(forecast, 1) }
    : { status: forecast.status }
}

function explained(forecast: MoultForecast, start: InstarStartKnown, today: PlainDate): MoultForecast {
  const note = sayUncertainStart(start, today)
  return note && forecast.status !== 'adult'
    ? { ...forecast, reason: `${forecast.reason} ${note}` }
    : forecast
}

function sayUncertainStart({ basis, on, earliestOn, latestOn }: InstarStartKnown, today: PlainDate): string {
  if (basis === 'estimated')
    return `Its last moult was not seen and is taken as about ${writeDay(on, today)}.`
  if (basis !== 'hatch' || earliestOn === latestOn) return ''
  return `Its clutch hatched from ${writeDay(earliestOn, today)} to ${writeDay(latestOn, today)}: any of these days may be its own.`
}

/** The days on which an instar is known, or taken, to have begun. */
function listShownStarts(record: GrowthRecord, start: InstarStartKnown): InstarStart[] {
  const seen: InstarStart[] = record.moults.map(({ number, on }) => ({ moults: number, on }))
  const baseline = record.baselineLastMoultOn ?? (record.moults.length === 0 ? start.on : record.baselineOn)
  const before: InstarStart[] = [{ moults: record.baselineMoults, on: baseline }]
  if (record.hatchedOn && record.baselineMoults === 0) return [{ moults: 0, on: record.hatchedOn }, ...seen]
  return record.hatchedOn && record.baselineMoults === 1
    ? [{ moults: 0, on: record.hatchedOn }, ...before, ...seen]
    : [...before, ...seen]
}

/** An animal's record with where it has stood: its own containers, and before them its clutch's. */
export type LivedRecord = FedRecord & {
  id: string
  clutchId: string | null
  sex: Sex
  stays: readonly Stay[]
  clutchStays: readonly Stay[]
}
/** `profile` has the learned values of growth in it where there are any; `learned` counts from it. */
export type KnownSurroundings = Pick<OutlookInput, 'profile' | 'naming' | 'today' | 'learned'> & {
  zones: ZonesById
}

/** The outlook of an animal from its whole record, as it was known on `today`. */
export function outlookOf(animal: LivedRecord, known: KnownSurroundings): Outlook {
  return individualOutlook(inputOf(animal, known))
}

/**
 * When an animal will be adult; null where nothing is known. Apart from the outlook because it costs fifty times as
 * much: a list of animals does not need it.
 */
export function forecastAdultOf(animal: LivedRecord, known: KnownSurroundings): MoultForecast | null {
  const input = inputOf(animal, known)
  if (input.history.length === 0) return null
  return forecastAdult(developmentInput(input, instarStart(input.record, input)))
}

/** Every coming moult of an animal whose window begins on or before `until`; none where nothing is known. */
export function comingMoultsOf(
  animal: LivedRecord,
  known: KnownSurroundings,
  until: PlainDate,
): ComingMoult[] {
  const input = inputOf(animal, known)
  if (input.history.length === 0) return []
  return forecastMoultSeries(developmentInput(input, instarStart(input.record, input)), until)
}

/** What everything about an animal is worked out from. */
export function inputOf(
  animal: LivedRecord,
  { profile, naming, today, zones, learned }: KnownSurroundings,
): OutlookInput {
  const lived = livedStays(animal, today)
  const history = historyOfZoneStays(lived, zones)
  const futureTemperatureSdC = futureSpreadC(lived, zones, today)
  return {
    profile,
    sex: animal.sex,
    record: recordAsOf(animal, today),
    history,
    naming,
    today,
    learned,
    subject: { animalId: animal.id, clutchId: animal.clutchId },
    futureTemperatureSdC,
  }
}
