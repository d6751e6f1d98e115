import { addDays, dateOfDay, dayNumber, minDate, type PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { CareProfile } from '../care-profile/profile'
import { type TemperatureHistory, thresholdsOf } from '../development/clock'
import { FUTURE_TEMPERATURE_SD_C } from '../development/parameters'
import {
  type ChanceWithin,
  chancesWithin,
  chanceWithinDays,
  type DateWindow,
  dateWindow,
  expectedEffectiveDays,
  type Future,
  futureOf,
  rateWindow,
  type SelfRatedWindow,
} from '../development/window'
import { type Lognormal, lognormalMedian } from '../probability/lognormal'
import { normalAbove, Z_OF_90 } from '../probability/normal'
import { type ColdRest, countsFrom, eggCaseHistory, incubation, restEnd } from './egg-clock'
import { type HatchReminder, hatchReminder } from './reminder'

/** When an egg case will hatch, whether it still will, and how many nymphs to be ready for. */

/**
 * What is known of the laying. `received`: only the day it arrived; it was laid at some time in the weeks
 * before, all days equally likely (four weeks unless said otherwise, a default).
 */
export type Laid =
  | { kind: 'known'; on: PlainDate }
  | { kind: 'range'; from: PlainDate; until: PlainDate }
  | { kind: 'received'; on: PlainDate; oldestDays?: number }

export type HatchInput = {
  profile: CareProfile
  laid: Laid
  coldRest?: ColdRest | null
  history: TemperatureHistory
  today: PlainDate
  futureTemperatureSdC?: number
  /** The workspace's learned fertility and counts; the profile's where there are none. */
  fertileShare?: number
  nymphs?: { low: number; typical: number; high: number }
  /** The workspace's learned incubation, in effective days; the profile's where there is none. */
  incubation?: Lognormal & { logMeanSd?: number }
  /** Own hatches that this was learned from, for the reason. */
  hatchesSeen?: number
}

export type ExpectedNymphs = { low: number; typical: number; high: number }

export type HatchForecast =
  | ({
      status: 'forecast'
      chanceStillHatches: number
      chanceWithin: ChanceWithin[]
      /** Nymphs if it hatches. */
      expectedNymphs: ExpectedNymphs
      reminder: HatchReminder
      reason: string
    } & DateWindow)
  | {
      status: 'resting'
      since: PlainDate
      chanceStillHatches: number
      expectedNymphs: ExpectedNymphs
      reason: string
    }
  | { status: 'too-cold'; chanceStillHatches: number; expectedNymphs: ExpectedNymphs; reason: string }

const OLDEST_RECEIVED_DAYS = 28
const LAYING_NODES = 15
const SPANS = [1, 3, 7, 14, 30]

/** Chances of `chanceWithin` and the window hold for an egg case that will hatch; see `chanceStillHatches`. */
export function forecastHatch(input: HatchInput): HatchForecast {
  const eggs = prepare(input)
  const chanceStillHatches = chanceOfHatch(input, eggs)
  const expectedNymphs = nymphsOf(input)
  const rest = input.coldRest
  if (rest && restEnd(rest, input.today) === null && rest.startedOn <= input.today) {
    const reason = `In its cold rest since ${writeDay(rest.startedOn, input.today)}: plan the end to see a window.`
    return { status: 'resting', since: rest.startedOn, chanceStillHatches, expectedNymphs, reason }
  }
  const window = dateWindow(eggs.future, eggs.chanceBy)
  if (!window) {
    const lowerC = input.profile.growth.lowerThresholdC.value
    const reason = `At or near ${lowerC} °C it does not develop: no window until it is kept warmer.`
    return { status: 'too-cold', chanceStillHatches, expectedNymphs, reason }
  }
  return {
    status: 'forecast',
    ...window,
    chanceStillHatches,
    chanceWithin: chancesWithin(eggs.future, eggs.chanceBy, SPANS),
    expectedNymphs,
    reminder: hatchReminder({
      profile: input.profile,
      clock: eggs.future.past,
      countedFrom: eggs.middleLaying,
      typicalEffectiveDays: lognormalMedian(eggs.length),
      today: input.today,
    }),
    reason: reasonOf(input, eggs),
  }
}

/**
 * Chances for those who add up whole distributions: that it hatches at all given that it has not, and within
 * so many days from the middle of today if it does. Null while it rests and nobody has said how long.
 */
export function hatchChances(
  input: HatchInput,
): { stillHatches: number; withinDays: (days: number) => number } | null {
  const rest = input.coldRest
  if (rest && restEnd(rest, input.today) === null && rest.startedOn <= input.today) return null
  const eggs = prepare(input)
  return {
    stillHatches: chanceOfHatch(input, eggs),
    withinDays: (days) => (days <= 0 ? 0 : chanceWithinDays(eggs.future, eggs.chanceBy, days)),
  }
}

/** The window of `forecastHatch` for whoever judges it later, if it hatches at all; null where there was none. */
export function selfRatedHatchWindow(input: HatchInput): SelfRatedWindow | null {
  const rest = input.coldRest
  if (rest && restEnd(rest, input.today) === null && rest.startedOn <= input.today) return null
  const eggs = prepare(input)
  return rateWindow(eggs.future, eggs.chanceBy)
}

type LayingNode = { weight: number; spent: number }
type Eggs = {
  future: Future
  length: Lognormal
  nodes: LayingNode[]
  middleLaying: PlainDate
  /** P(hatched within so many effective days from now), given that it will hatch and has not. */
  chanceBy: (effectiveDays: number) => number
}

function prepare(input: HatchInput): Eggs {
  const sdC = input.futureTemperatureSdC ?? FUTURE_TEMPERATURE_SD_C
  const temperatures = {
    history: eggCaseHistory(input.profile, input),
    thresholds: thresholdsOf(input.profile),
    sdC,
  }
  const future = futureOf(temperatures, input.today)
  const length = lengthOf(input)
  const resting = { coldRest: input.coldRest, today: input.today }
  const layings = layingDates(input.laid, input.today)
  const nodes = layings.map((laidOn) => ({
    weight: 1 / layings.length,
    spent: expectedEffectiveDays(future, countsFrom(input.profile, { ...resting, laidOn }), input.today),
  }))
  const notYet = mixedSurvival(nodes, length, 0)
  const middleLaying = countsFrom(input.profile, {
    ...resting,
    laidOn: layings[layings.length >> 1] ?? input.today,
  })
  const chanceBy = (effectiveDays: number) => {
    if (effectiveDays <= 0 || notYet <= 0) return 0
    return 1 - mixedSurvival(nodes, length, effectiveDays) / notYet
  }
  return { future, length, nodes, middleLaying, chanceBy }
}

/** Spread between egg cases, and what is unknown about their mean. */
function lengthOf(input: HatchInput): Lognormal {
  if (!input.incubation) return incubation(input.profile)
  const { logMean, logSd, logMeanSd = 0 } = input.incubation
  return { logMean, logSd: Math.hypot(logSd, logMeanSd) }
}

/** Equally likely laying dates, none of them after today. */
function layingDates(laid: Laid, today: PlainDate): PlainDate[] {
  if (laid.kind === 'known') return [laid.on]
  const until = minDate(laid.kind === 'range' ? laid.until : laid.on, today)
  const from =
    laid.kind === 'range' ? laid.from : addDays(laid.on, -(laid.oldestDays ?? OLDEST_RECEIVED_DAYS))
  const firstDay = Math.min(dayNumber(from), dayNumber(until))
  const span = dayNumber(until) - firstDay + 1
  const count = Math.min(span, LAYING_NODES)
  return Array.from({ length: count }, (_, index) =>
    dateOfDay(firstDay + Math.floor(((index + 0.5) * span) / count)),
  )
}

/** P(incubation is longer than what has passed and `ahead` more). Spent days may be negative (rest to come). */
function mixedSurvival(nodes: readonly LayingNode[], length: Lognormal, ahead: number): number {
  return nodes.reduce((sum, { weight, spent }) => {
    if (spent + ahead <= 0) return sum + weight
    const z = (Math.log(spent + ahead) - length.logMean) / Math.max(1e-6, length.logSd)
    return sum + weight * normalAbove(Math.min(z, 35))
  }, 0)
}

/** Bayes: a fertile egg case that is not due yet and an infertile one look the same. */
function chanceOfHatch(input: HatchInput, eggs: Eggs): number {
  const fertile = input.fertileShare ?? input.profile.hatch.fertileShare.value
  const stillAndFertile = fertile * mixedSurvival(eggs.nodes, eggs.length, 0)
  return stillAndFertile / (stillAndFertile + (1 - fertile) || 1)
}

function nymphsOf(input: HatchInput): ExpectedNymphs {
  if (input.nymphs) return input.nymphs
  const { min, typical, max } = input.profile.hatch.nymphs.value
  return { low: min, typical, high: max }
}

function reasonOf(input: HatchInput, eggs: Eggs): string {
  const { minDays, maxDays, minC, maxC } = input.profile.hatch.incubation.value
  const warmth = minC === maxC ? `${minC} °C` : `${minC}–${maxC} °C`
  const spent = eggs.nodes.reduce((sum, { weight, spent }) => sum + weight * spent, 0)
  const worth = `${Math.max(0, spent).toFixed(1)} effective days so far`
  const ofProfile = `usually ${minDays}–${maxDays} days at ${warmth} (care profile)`
  const usual = input.incubation && input.hatchesSeen ? sayLearned(input.incubation, input) : ofProfile
  const end = input.coldRest ? restEnd(input.coldRest, input.today) : null
  const rest = end ? `, cold rest until ${writeDay(end, input.today)}` : ''
  const needsRest = input.profile.hatch.coldRest.value.need === 'cold-strains' && !input.coldRest
  const warning = needsRest ? '; a cold strain will not hatch before a cold rest' : ''
  return `${laidWords(input)}${rest}: ${worth}; ${usual}${warning}.`
}

/** "usually 30–38 of them (from 6 hatches of yours)". */
function sayLearned(length: Lognormal & { logMeanSd?: number }, { hatchesSeen = 0 }: HatchInput): string {
  const spread = Z_OF_90 * Math.hypot(length.logSd, length.logMeanSd ?? 0)
  const [from, until] = [-spread, spread].map((z) => Math.round(Math.exp(length.logMean + z)))
  return `usually ${from}–${until} of them (from ${hatchesSeen} ${hatchesSeen === 1 ? 'hatch' : 'hatches'} of yours)`
}

function laidWords({ laid, today }: HatchInput): string {
  if (laid.kind === 'known') return `Laid on ${writeDay(laid.on, today)}`
  if (laid.kind === 'range')
    return `Laid between ${writeDay(laid.from, today)} and ${writeDay(laid.until, today)}`
  return `Received on ${writeDay(laid.on, today)}, laid in the weeks before`
}
