import { daysBetween, maxDate, minDate, type PlainDate } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import type { Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import { type TemperatureHistory, thresholdsOf } from './clock'
import { hardeningUntil } from './hardening'
import { type DevelopmentCourse, openCourses } from './instar-length'
import { type DevelopmentParameters, FUTURE_TEMPERATURE_SD_C, priorParameters } from './parameters'
import type { PossibleStart } from './possible-start'
import type { LearnedFrom } from './posterior'
import { withRefusal } from './refusal'
import {
  type PresentInstar,
  presentInstar,
  type RemainingTime,
  remainingTimes,
  shareStillRunning,
} from './remaining-time'
import { clipHistory } from './temperature-history'
import {
  type ChanceWithin,
  chancesWithin,
  chanceWithinDays,
  type DateWindow,
  dateWindow,
  expectedEffectiveDays,
  type Future,
  futureOf,
  outerWindow,
  rateWindow,
  type SelfRatedWindow,
} from './window'

/**
 * When will it moult? Windows are predictive: spread between siblings, what is unknown about this
 * workspace, clutch and animal, the number of instars still to come, and the temperature ahead.
 */
export type DevelopmentInput = {
  profile: CareProfile
  sex: Sex
  /** Moults since hatch. */
  moults: number
  isAdult?: boolean
  /** Wing buds say that this is the last nymphal instar. */
  hasWingBuds?: boolean
  /** The last day on which it refused food in this instar, having eaten nothing since. */
  refusedFoodOn?: PlainDate | null
  /** Day of the last moult, or of the hatch before the first. */
  instarStartedOn: PlainDate
  /** Where that day is not certain: the days it may have been; `instarStartedOn` is then only named. */
  possibleStarts?: readonly PossibleStart[]
  history: TemperatureHistory
  today: PlainDate
  /** The workspace's learned parameters; the prior where there are none. */
  parameters?: DevelopmentParameters
  /** The records behind those parameters, for the reason. */
  learnedFrom?: LearnedFrom
  futureTemperatureSdC?: number
}

/** What a forecast rests on, for a reason in any language. Lengths in effective days at `referenceC`. */
export type ForecastBasis = {
  instarStartedOn: PlainDate
  spentDays: number
  spentEffectiveDays: number
  medianInstarEffectiveDays: number
  referenceC: number
  isLearned: boolean
  learnedFrom: LearnedFrom | null
}

export type MoultForecast =
  | ({
      status: 'forecast'
      chanceWithin: ChanceWithin[]
      /** Chance that the moult asked for is the final one. */
      chanceFinal: number
      /** Fewer than one animal in twenty takes as long as this one has already. */
      isOverdue: boolean
      /** From the first day of the window until the skin is hard after its last. */
      leaveAlone: { from: PlainDate; until: PlainDate }
      basis: ForecastBasis
      reason: string
    } & DateWindow)
  | { status: 'adult'; reason: string }
  | { status: 'too-cold'; basis: ForecastBasis; reason: string }

/** The window of one of the coming moults; `chance` that there is such a moult at all. */
export type ComingMoult = DateWindow & { moults: number; chance: number; chanceFinal: number }

const SPANS = [1, 3, 7, 14, 30]
const OVERDUE_SHARE = 0.05
const LEAST_CHANCE_TO_LIST = 0.1

/** The next moult: 10, 50 and 90 % dates and the chance within the next days. */
export function forecastNextMoult(input: DevelopmentInput): MoultForecast {
  return forecastMoult(input, 1)
}

/** As much of the next moult as a line of a list says, at about half the cost. */
export type NextWindow =
  | ({ status: 'forecast'; isOverdue: boolean; chanceTomorrow: number } & Pick<DateWindow, 'p10' | 'p90'>)
  | { status: 'adult' }
  | { status: 'too-cold' }

/** The same days and chances as `forecastNextMoult` gives, without the rest. */
export function forecastNextWindow(input: DevelopmentInput): NextWindow {
  if (input.isAdult) return { status: 'adult' }
  const { present, courses, future, refusedFor } = prepare(input)
  const chanceBy = withRefusal(mixedChance(remainingTimes(present, courses, 1)), refusedFor)
  const window = outerWindow(future, chanceBy)
  if (!window) return { status: 'too-cold' }
  return {
    status: 'forecast',
    ...window,
    isOverdue: isOverdue(present, courses),
    chanceTomorrow: chanceWithinDays(future, chanceBy, 1),
  }
}

/** The final moult, in the same shape. */
export function forecastAdult(input: DevelopmentInput): MoultForecast {
  return forecastMoult(input, 'final')
}

/**
 * P(next moult within so many days from the middle of today, broken ones allowed), for those who judge or
 * add up whole distributions. A moult on or before a date has until its end: half a day more.
 */
export function nextMoultChance(input: DevelopmentInput): (days: number) => number {
  if (input.isAdult) return () => 0
  const { present, courses, future, refusedFor } = prepare(input)
  const chanceBy = withRefusal(mixedChance(remainingTimes(present, courses, 1)), refusedFor)
  return (days) => (days <= 0 ? 0 : chanceWithinDays(future, chanceBy, days))
}

/**
 * P(that moult within so many days from the middle of today), apart by whether the animal is a nymph or adult
 * after it. Together they stay below 1 where some courses have no such moult.
 */
export type MoultChances = { nymph: (days: number) => number; adult: (days: number) => number }

const NO_MOULT: MoultChances = { nymph: () => 0, adult: () => 0 }

/** The chances of each of the coming moults (1 = the next), each worked out once, when it is asked for. */
export function moultChancesAhead(input: DevelopmentInput): (moultsAhead: number) => MoultChances {
  if (input.isAdult) return () => NO_MOULT
  const { present, courses, future } = prepare(input)
  const within = (times: readonly RemainingTime[]) =>
    remembered((days) =>
      chanceWithinDays(
        future,
        (effective) => times.reduce((sum, { weight, chanceBy }) => sum + weight * chanceBy(effective), 0),
        days,
      ),
    )
  return remembered((moultsAhead) => {
    const moults = input.moults + moultsAhead
    const times = remainingTimes(present, courses, moultsAhead)
    const isFinal = ({ course }: RemainingTime) => course.totalMoults === moults
    const [nymph, adult] = [within(times.filter((time) => !isFinal(time))), within(times.filter(isFinal))]
    return { nymph: (days) => (days <= 0 ? 0 : nymph(days)), adult: (days) => (days <= 0 ? 0 : adult(days)) }
  })
}

/** Days of one animal are asked about again and again, and a chance is dear. */
function remembered<T>(work: (asked: number) => T): (asked: number) => T {
  const known = new Map<number, T>()
  return (asked) => {
    const before = known.get(asked)
    if (before !== undefined) return before
    const found = work(asked)
    known.set(asked, found)
    return found
  }
}

/** The window of `forecastNextMoult` or `forecastAdult`, for whoever judges it later; null where there was none. */
export function selfRatedWindow(input: DevelopmentInput, moultsAhead: 1 | 'final'): SelfRatedWindow | null {
  if (input.isAdult) return null
  const { present, courses, future, refusedFor } = prepare(input)
  const chanceBy = mixedChance(remainingTimes(present, courses, moultsAhead))
  return rateWindow(future, moultsAhead === 1 ? withRefusal(chanceBy, refusedFor) : chanceBy)
}

/** Every coming moult whose window begins on or before `until`; later ones are wider. Empty for adults. */
export function forecastMoultSeries(input: DevelopmentInput, until: PlainDate): ComingMoult[] {
  if (input.isAdult) return []
  const { present, courses, future, refusedFor } = prepare(input)
  const series: ComingMoult[] = []
  const longest = Math.max(...courses.map((course) => course.totalMoults)) - input.moults
  for (let ahead = 1; ahead <= longest; ahead += 1) {
    const times = remainingTimes(present, courses, ahead)
    const chance = times.reduce((sum, { weight }) => sum + weight, 0)
    if (chance < LEAST_CHANCE_TO_LIST) break
    const chanceBy = mixedChance(times)
    const window = dateWindow(future, ahead === 1 ? withRefusal(chanceBy, refusedFor) : chanceBy)
    if (!window || window.p10 > until) break
    const moults = input.moults + ahead
    series.push({ ...window, moults, chance, chanceFinal: chanceOfFinal(times, moults) })
  }
  return series
}

function forecastMoult(input: DevelopmentInput, moultsAhead: 1 | 'final'): MoultForecast {
  if (input.isAdult) return { status: 'adult', reason: 'Adult: there are no more moults.' }
  const { present, courses, future, refusedFor } = prepare(input)
  const times = remainingTimes(present, courses, moultsAhead)
  // Of a moult after the next a refusal says next to nothing; with wing buds the next is the final one.
  const isNext = moultsAhead === 1 || input.hasWingBuds === true
  const chanceBy = isNext ? withRefusal(mixedChance(times), refusedFor) : mixedChance(times)
  const basis = basisOf(input, { present, times })
  const window = dateWindow(future, chanceBy)
  if (!window) return { status: 'too-cold', basis, reason: tooColdReason(input) }
  const chanceFinal = moultsAhead === 'final' ? 1 : chanceOfFinal(times, input.moults + 1)
  const isLate = isOverdue(present, courses)
  return {
    status: 'forecast',
    ...window,
    chanceWithin: chancesWithin(future, chanceBy, SPANS),
    chanceFinal,
    isOverdue: isLate,
    leaveAlone: {
      from: window.p10,
      until: hardeningUntil(input.profile, { lastMoultOn: window.p90, isFinal: chanceFinal > 0.5 }),
    },
    basis,
    reason: reasonOf(input, { basis, isOverdue: isLate, moultsAhead }),
  }
}

function isOverdue(present: PresentInstar, courses: readonly DevelopmentCourse[]): boolean {
  return shareStillRunning(present, courses) < OVERDUE_SHARE
}

function prepare(input: DevelopmentInput): {
  present: PresentInstar
  courses: DevelopmentCourse[]
  future: Future
  /** Effective days since it refused food; null where it did not. */
  refusedFor: number | null
} {
  const sdC = input.futureTemperatureSdC ?? FUTURE_TEMPERATURE_SD_C
  const today = maxDate(input.today, input.instarStartedOn)
  // What lies before this instar is not asked about, and may be a year of measured days.
  const since = (input.possibleStarts ?? []).reduce(
    (first, { on }) => minDate(first, on),
    input.instarStartedOn,
  )
  const history = clipHistory(input.history, since, null)
  const temperatures = { history, thresholds: thresholdsOf(input.profile), sdC }
  const future = futureOf(temperatures, today)
  const present = {
    profile: input.profile,
    parameters: input.parameters ?? priorParameters(input.profile),
    moults: input.moults,
    starts: startsOf(input, { future, today }),
  }
  const { refusedFoodOn: refusedOn } = input
  const refusedFor = refusedOn ? expectedEffectiveDays(future, minDate(refusedOn, today), today) : null
  const { moultsToAdult } = present.parameters
  const courses = openCourses(input.profile, { ...input, ...(moultsToAdult ? { moultsToAdult } : {}) })
  return { present, courses, future, refusedFor }
}

function startsOf(
  input: DevelopmentInput,
  now: { future: Future; today: PlainDate },
): PresentInstar['starts'] {
  const certain = [{ on: input.instarStartedOn, weight: 1 }]
  const starts = input.possibleStarts?.length ? input.possibleStarts : certain
  return starts.map(({ on, weight }) => ({
    weight,
    spent: expectedEffectiveDays(now.future, minDate(on, now.today), now.today),
  }))
}

function mixedChance(times: readonly RemainingTime[]): (effectiveDays: number) => number {
  const total = times.reduce((sum, { weight }) => sum + weight, 0)
  // Courses that differ only in what comes later have the same next moult, which is then asked about once.
  const shares = new Map<RemainingTime['chanceBy'], number>()
  for (const { weight, chanceBy } of times) shares.set(chanceBy, (shares.get(chanceBy) ?? 0) + weight / total)
  const mixed = [...shares]
  return (effectiveDays) => mixed.reduce((sum, [chanceBy, share]) => sum + share * chanceBy(effectiveDays), 0)
}

function chanceOfFinal(times: readonly RemainingTime[], moults: number): number {
  const total = times.reduce((sum, { weight }) => sum + weight, 0)
  const final = times.filter(({ course }) => course.totalMoults === moults)
  return final.reduce((sum, { weight }) => sum + weight, 0) / total
}

function basisOf(
  input: DevelopmentInput,
  found: { present: PresentInstar; times: readonly RemainingTime[] },
): ForecastBasis {
  const log = found.times.reduce(
    (sum, { course, weight }) => sum + weight * presentInstar(found.present, course).logMean,
    0,
  )
  return {
    instarStartedOn: input.instarStartedOn,
    spentDays: Math.max(0, daysBetween(input.instarStartedOn, input.today)),
    spentEffectiveDays: found.present.starts.reduce((sum, { weight, spent }) => sum + weight * spent, 0),
    medianInstarEffectiveDays: Math.exp(log),
    referenceC: input.profile.growth.referenceC.value,
    isLearned: input.parameters !== undefined,
    learnedFrom: input.learnedFrom ?? null,
  }
}

function reasonOf(
  input: DevelopmentInput,
  found: { basis: ForecastBasis; isOverdue: boolean; moultsAhead: 1 | 'final' },
): string {
  const { basis, isOverdue } = found
  const began = `${input.moults === 0 ? 'Hatched' : 'Moulted'} on ${writeDay(basis.instarStartedOn, input.today)}`
  const spent = `${writeCount(basis.spentDays, 'day')}, worth ${basis.spentEffectiveDays.toFixed(1)} at ${basis.referenceC} °C`
  const usual = `this instar usually takes ${basis.medianInstarEffectiveDays.toFixed(1)} (${sayLearned(basis)})`
  const late = isOverdue ? '; longer than nearly all, so look for a skin that was missed' : ''
  const final = found.moultsAhead === 'final' ? ', and those after it as the profile says' : ''
  return `${began}: ${spent}; ${usual}${final}${late}.${saySigns(input)}`
}

/** In a sentence each: what was seen of it that moved the window. */
function saySigns({ hasWingBuds, refusedFoodOn, today }: DevelopmentInput): string {
  const buds = hasWingBuds ? ' Wing buds were seen: its next moult is the final one.' : ''
  if (!refusedFoodOn) return buds
  return `${buds} It refused food on ${writeDay(refusedFoodOn, today)}, so a moult within days is likelier.`
}

/** "from 34 moults of yours; this clutch runs 8 % slower". */
function sayLearned({ isLearned, learnedFrom }: ForecastBasis): string {
  if (!isLearned || learnedFrom?.moults === 0) return 'care profile'
  if (!learnedFrom) return 'your own records'
  const { moults, clutchPercent } = learnedFrom
  const own = `from ${writeCount(moults, 'moult')} of yours`
  if (clutchPercent === null) return own
  return `${own}; this clutch runs ${Math.abs(clutchPercent)} % ${clutchPercent > 0 ? 'slower' : 'faster'}`
}

function tooColdReason(input: DevelopmentInput): string {
  const lowerC = input.profile.growth.lowerThresholdC.value
  return `Too cold to grow: at or near ${lowerC} °C no date can be given until it is kept warmer.`
}

/** Chance of a moult within a number of days, as far as a forecast lists it; 0 for adults and the chilled. */
export function chanceWithin(forecast: MoultForecast, days: number): number {
  if (forecast.status !== 'forecast') return 0
  return forecast.chanceWithin.find((span) => span.days === days)?.probability ?? 0
}
