import { maxDate, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { rate, type TemperatureHistory, type TemperatureSegment, thresholdsOf } from '../development/clock'
import { overlayHistory } from '../development/temperature-history'
import type { Lognormal } from '../probability/lognormal'
import { Z_OF_90 } from '../probability/normal'

/**
 * Incubation in effective days: lognormal, the profile's range read as its 10–90 % range at the
 * temperature it is stated for. Same thresholds as growth, for want of published ones.
 */
export function incubation(profile: CareProfile): Lognormal {
  const { minDays, maxDays, minC, maxC } = profile.hatch.incubation.value
  const perDay = rate((minC + maxC) / 2, thresholdsOf(profile))
  const logShortest = Math.log(minDays * perDay)
  const logLongest = Math.log(Math.max(maxDays, minDays * 1.02) * perDay)
  return { logMean: (logShortest + logLongest) / 2, logSd: (logLongest - logShortest) / (2 * Z_OF_90) }
}

/** A cold rest of one egg case: begun, planned to end, really ended. */
export type ColdRest = { startedOn: PlainDate; plannedEndOn?: PlainDate | null; endedOn?: PlainDate | null }

/**
 * The first day after the rest: the real end, or the planned one. A planned end that has passed without a
 * record means that it still rests, so today is the earliest it can end. Null while nobody has said.
 */
export function restEnd(rest: ColdRest, today: PlainDate): PlainDate | null {
  if (rest.endedOn) return rest.endedOn
  return rest.plannedEndOn ? maxDate(rest.plannedEndOn, today) : null
}

/**
 * The temperatures an egg case goes through: its zone's, with the rest laid over them at the profile's
 * resting temperature, in which nothing develops.
 */
export function eggCaseHistory(
  profile: CareProfile,
  stays: { history: TemperatureHistory; coldRest?: ColdRest | null; today: PlainDate },
): TemperatureSegment[] {
  if (!stays.coldRest) return [...stays.history]
  const { minC, maxC } = profile.hatch.coldRest.value
  const restC = Math.min((minC + maxC) / 2, profile.growth.lowerThresholdC.value)
  return overlayHistory(stays.history, {
    from: stays.coldRest.startedOn,
    until: restEnd(stays.coldRest, stays.today),
    dayC: restC,
  })
}

/**
 * The day from which effective days count: the laying, or the end of a rest in species whose days before
 * the rest do not count.
 */
export function countsFrom(
  profile: CareProfile,
  eggCase: { laidOn: PlainDate; coldRest?: ColdRest | null; today: PlainDate },
): PlainDate {
  const end = eggCase.coldRest ? restEnd(eggCase.coldRest, eggCase.today) : null
  if (end === null || profile.hatch.coldRest.value.hasCountingDaysBefore) return eggCase.laidOn
  return maxDate(end, eggCase.laidOn)
}
