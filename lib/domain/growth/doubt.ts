import { dateOfDay, dayNumber, daysInMonth, type PlainDate } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import type { CareProfile } from '../care-profile/profile'
import { dateAfterEffectiveDays, developmentClock, effectiveDaysAt, thresholdsOf } from '../development/clock'
import { medianInstarDays, openCourses } from '../development/instar-length'
import { logCovariance, logShift } from '../development/parameters'
import { type LearnedDevelopment, listDoubtfulDates, parametersOf } from '../development/posterior'
import type { DevelopmentRecord, RecordedStart } from '../development/record'

/**
 * A date on record that is more likely a slip than true, for a person to look at: nothing is corrected by itself.
 * `likelyOn` is a day that would fit, where there is one; `slip` says which slip would explain what stands there.
 */
export type Doubt = {
  animalId: string
  /** The start in doubt: 0 is the hatch, else the number of the moult. */
  moults: number
  on: PlainDate
  chance: number
  likelyOn: PlainDate | null
  slip: 'month' | 'year' | 'day-and-month' | 'ten-days' | null
  /** What does not fit: so many days where so many are usual. */
  days: number
  usualDays: number
}

type Known = {
  records: readonly DevelopmentRecord[]
  development: LearnedDevelopment
  isConfirmed: (animalId: string, moults: number) => boolean
}

/** A merely unusual length is no reason to ask anybody: the fit leans less on it by itself. */
const LEAST_CHANCE = 0.9

/** Likeliest slip first. O(doubts × length of a history). */
export function listDoubts(profile: CareProfile, { records, development, isConfirmed }: Known): Doubt[] {
  const byAnimal = new Map(records.map((record) => [record.animalId, record]))
  return listDoubtfulDates(development, LEAST_CHANCE).flatMap(({ animalId, moults, chance }) => {
    const record = byAnimal.get(animalId)
    if (!record || isConfirmed(animalId, moults)) return []
    const at = record.starts.findIndex((start) => start.moults === moults)
    if (at < 1) return []
    return [{ animalId, moults, chance, ...explain(record, at, { profile, development }) }]
  })
}

type Explained = Pick<Doubt, 'on' | 'likelyOn' | 'slip' | 'days' | 'usualDays'>

function explain(
  record: DevelopmentRecord,
  at: number,
  known: { profile: CareProfile; development: LearnedDevelopment },
): Explained {
  const lengths = neighbourLengths(record, at, known)
  const { latestOn: on } = record.starts[at]!
  const before = record.starts[at - 1]!
  const until = record.starts[at + 1]?.earliestOn ?? record.runningOn
  const fits = (day: PlainDate) =>
    day > before.latestOn && (until === null || day < until)
      ? surprise(lengths, day)
      : Number.POSITIVE_INFINITY
  const slips = slipsOf(on).map((slip) => ({ ...slip, surprise: fits(slip.on) }))
  const best = slips.reduce((least, slip) => (slip.surprise < least.surprise ? slip : least), {
    on,
    slip: null as Doubt['slip'],
    surprise: PLAUSIBLE,
  })
  const usual = lengths.dateAfterFirst
  return {
    on,
    // Never the day that a forecast would have liked: a record moved there would only make the forecast right.
    likelyOn: best.slip ? best.on : null,
    slip: best.slip,
    days: dayNumber(on) - dayNumber(before.latestOn),
    usualDays: usual ? dayNumber(usual) - dayNumber(before.latestOn) : 0,
  }
}

/** Square of the distance, in standard deviations, within which a corrected date counts as explaining it. */
const PLAUSIBLE = 4

type Lengths = {
  first: { logMean: number; sd: number }
  second: { logMean: number; sd: number } | null
  effectiveDays: (from: PlainDate, to: PlainDate) => number
  before: RecordedStart
  after: RecordedStart | null
  dateAfterFirst: PlainDate | null
}

/** The instars before and after the date in doubt, as they are expected of this animal. */
function neighbourLengths(
  record: DevelopmentRecord,
  at: number,
  { profile, development }: { profile: CareProfile; development: LearnedDevelopment },
): Lengths {
  const clock = developmentClock(record.history, thresholdsOf(profile))
  const parameters = parametersOf(development, { clutchId: record.clutchId })
  const start = record.starts[at]!
  const before = record.starts[at - 1]!
  const after = record.starts[at + 1] ?? null
  const expected = (from: number, until: number) => {
    const course = openCourses(profile, { sex: record.sex, moults: Math.max(from, until - 1) })[0]!
    let sum = 0
    for (let instar = from; instar < until; instar += 1)
      sum += medianInstarDays(profile, course, instar) * Math.exp(logShift(parameters, instar))
    return { logMean: Math.log(sum), sd: Math.sqrt(logCovariance(parameters, from, from)) }
  }
  const first = expected(before.moults, start.moults)
  return {
    first,
    second: after ? expected(start.moults, after.moults) : null,
    effectiveDays: (from, to) =>
      effectiveDaysAt(clock, dayNumber(to)) - effectiveDaysAt(clock, dayNumber(from)),
    before,
    after,
    dateAfterFirst: dateAfterEffectiveDays(clock, before.latestOn, Math.exp(first.logMean)),
  }
}

function surprise({ first, second, effectiveDays, before, after }: Lengths, on: PlainDate): number {
  const off = (days: number, length: { logMean: number; sd: number }) =>
    ((Math.log(Math.max(0.1, days)) - length.logMean) / length.sd) ** 2
  const ahead = second && after ? off(effectiveDays(on, after.latestOn), second) : 0
  return off(effectiveDays(before.latestOn, on), first) + ahead
}

/** The days that were meant if the finger slipped in a usual way. */
function slipsOf(on: PlainDate): { on: PlainDate; slip: Doubt['slip'] }[] {
  const [year, month, day] = [Number(on.slice(0, 4)), Number(on.slice(5, 7)), Number(on.slice(8, 10))]
  const inMonth = (months: number) => {
    const at = year * 12 + month - 1 + months
    return compose(Math.floor(at / 12), (at % 12) + 1, day)
  }
  const slips: { on: PlainDate | null; slip: Doubt['slip'] }[] = [
    { on: inMonth(1), slip: 'month' },
    { on: inMonth(-1), slip: 'month' },
    { on: compose(year - 1, month, day), slip: 'year' },
    { on: compose(year + 1, month, day), slip: 'year' },
    { on: compose(year, day, month), slip: 'day-and-month' },
    ...[-20, -10, 10, 20].map((days) => ({ on: withinMonth(on, days), slip: 'ten-days' as const })),
  ]
  return slips.flatMap((slip) => (slip.on === null || slip.on === on ? [] : [{ ...slip, on: slip.on }]))
}

function compose(year: number, month: number, day: number): PlainDate | null {
  if (month < 1 || month > 12 || day > daysInMonth(year, month)) return null
  const two = (part: number) => String(part).padStart(2, '0')
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`
}

/** A wrong first digit of the day leaves the month as it is. */
function withinMonth(on: PlainDate, days: number): PlainDate | null {
  const moved = dateOfDay(dayNumber(on) + days)
  return moved.slice(0, 7) === on.slice(0, 7) ? moved : null
}

const SLIPS: Record<NonNullable<Doubt['slip']>, string> = {
  month: 'the month may be one off',
  year: 'the year may be wrong',
  'day-and-month': 'day and month may have changed places',
  'ten-days': 'a digit of the day may be wrong',
}

/** The same in a sentence, `stage` being what the animal became. */
export function sayDoubt(doubt: Doubt, stage: string, today: PlainDate): string {
  const { on, days, usualDays, likelyOn, slip } = doubt
  const compared = days < usualDays ? `only ${writeCount(days, 'day')}` : writeCount(days, 'day')
  const odd = `The moult to ${stage} on ${writeDay(on, today)} came after ${compared}; about ${usualDays} would be usual.`
  return likelyOn && slip
    ? `${odd} Was it ${writeDay(likelyOn, today)}? Then ${SLIPS[slip]}.`
    : `${odd} Perhaps the date is wrong, or a moult before it was missed.`
}
