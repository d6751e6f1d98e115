import { addDays, daysBetween, minDate, type PlainDate } from '../calendar/date'
import type { Sex } from '../care-profile/body-length'
import type { CareProfile } from '../care-profile/profile'
import {
  dateAfterEffectiveDays,
  developmentClock,
  rateOn,
  type TemperatureHistory,
  thresholdsOf,
} from '../development/clock'
import { medianInstarDays, openCourses } from '../development/instar-length'
import { type GrowthRecord, latestHatchOn } from './record'

/**
 * When the present instar began, and how that is known: `seen` within the span, from the `hatch`, or only
 * `estimated` because nobody saw the last moult. `earliestOn` to `latestOn` is the span it may lie in.
 */
export type InstarStartKnown = {
  on: PlainDate
  basis: 'seen' | 'hatch' | 'estimated'
  earliestOn: PlainDate
  latestOn: PlainDate
}

export type InstarStartInput = { profile: CareProfile; sex: Sex; history: TemperatureHistory }

export function instarStart(record: GrowthRecord, input: InstarStartInput): InstarStartKnown {
  const last = record.moults.at(-1)
  if (last) return spanned('seen', last.seenFrom ?? last.on, last.on)
  if (record.baselineLastMoultOn)
    return spanned('seen', record.baselineLastMoultOn, record.baselineLastMoultOn)
  if (record.baselineMoults === 0 && record.hatchedOn)
    return spanned('hatch', record.hatchedOn, latestHatchOn(record) ?? record.hatchedOn)
  return estimatedStart(record, input)
}

function spanned(
  basis: InstarStartKnown['basis'],
  earliestOn: PlainDate,
  latestOn: PlainDate,
): InstarStartKnown {
  const on = addDays(earliestOn, Math.ceil(daysBetween(earliestOn, latestOn) / 2))
  return { on, basis, earliestOn, latestOn }
}

/**
 * Nobody saw the last moult. Of an animal with a hatch day the clock says when that moult was due; of any other all
 * days of the instar are equally likely, so it stands in the middle of it. Never after the record began.
 */
function estimatedStart(record: GrowthRecord, input: InstarStartInput): InstarStartKnown {
  const clock = developmentClock(input.history, thresholdsOf(input.profile))
  const present = meanInstarDays(input, record.baselineMoults)
  const perDay = Math.max(0.2, rateOn(clock, record.baselineOn))
  const wholeInstarDays = Math.max(1, Math.round(present / perDay))
  const floor = addDays(record.baselineOn, -wholeInstarDays)
  if (record.hatchedOn) {
    const due = dateAfterEffectiveDays(clock, record.hatchedOn, daysUntil(input, record.baselineMoults))
    const on = minDate(due ?? record.baselineOn, record.baselineOn)
    const spread = Math.round(daysBetween(record.hatchedOn, on) * 0.2)
    const latestOn = minDate(addDays(on, spread), record.baselineOn)
    return { on, basis: 'estimated', earliestOn: addDays(on, -spread), latestOn }
  }
  const on = addDays(record.baselineOn, -Math.round(wholeInstarDays / 2))
  return { on, basis: 'estimated', earliestOn: floor, latestOn: record.baselineOn }
}

/** Effective days from the hatch to the given moult, on the profile's courses. */
function daysUntil(input: InstarStartInput, moults: number): number {
  let sum = 0
  for (let instar = 0; instar < moults; instar += 1) sum += meanInstarDays(input, instar)
  return sum
}

function meanInstarDays({ profile, sex }: InstarStartInput, moults: number): number {
  return openCourses(profile, { sex, moults }).reduce(
    (sum, course) => sum + course.weight * medianInstarDays(profile, course, moults),
    0,
  )
}
