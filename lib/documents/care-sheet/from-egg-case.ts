import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { feedingAdvice } from '@/lib/domain/care-sheet/feeding'
import type { HatchForecast } from '@/lib/domain/hatch/forecast'
import { sheetClimate, sheetFood } from './from-forecasts'
import type { CareSheetPayload, SheetCalendarDay, SheetEggCase, SheetWindow } from './payload'

export type EggCaseRecord = {
  laidOn: PlainDate | null
  laidFrom: PlainDate | null
  laidUntil: PlainDate | null
  receivedOn: PlainDate | null
  restStartOn: PlainDate | null
  restPlannedEndOn: PlainDate | null
  restEndedOn: PlainDate | null
}

type Known = { profile: CareProfile | null; forecast: HatchForecast | null; today: PlainDate }

/** What the records and the profile say of an egg case, in the shape a sheet takes it. */
export function eggCaseFacts(record: EggCaseRecord, { profile, forecast, today }: Known): SheetEggCase {
  const rest = profile?.hatch.coldRest.value
  const isResting = record.restStartOn !== null && record.restEndedOn === null
  const incubation = profile?.hatch.incubation.value
  const nymphs = forecast?.expectedNymphs
  return {
    laid: laidWindow(record),
    receivedOn: record.receivedOn,
    hatch: hatchWindow(forecast),
    nymphs: nymphs ? { min: Math.max(1, Math.round(nymphs.low)), max: Math.round(nymphs.high) } : null,
    incubationC: incubation ? { min: incubation.minC, max: incubation.maxC } : null,
    restUntilOn:
      isResting && record.restPlannedEndOn && record.restPlannedEndOn > today
        ? record.restPlannedEndOn
        : null,
    restC: rest && rest.need !== 'none' ? { min: rest.minC, max: rest.maxC } : null,
    mayNeedRest: rest?.need === 'cold-strains' && record.restEndedOn === null && !isResting,
    partsEarly: profile?.separation.apartAtMoults.value !== null,
  }
}

function laidWindow({ laidOn, laidFrom, laidUntil }: EggCaseRecord): SheetWindow | null {
  if (laidOn) return { fromOn: laidOn, toOn: laidOn }
  return laidFrom && laidUntil ? { fromOn: laidFrom, toOn: laidUntil } : null
}

function hatchWindow(forecast: HatchForecast | null): SheetWindow | null {
  return forecast?.status === 'forecast' ? { fromOn: forecast.p10, toOn: forecast.p90 } : null
}

/** The weeks with the hatch marked, and what the young will eat: there is nobody to feed before. */
export function eggCaseWeeks(
  eggCase: SheetEggCase,
  { profile, today, days }: { profile: CareProfile | null; today: PlainDate; days: number },
): Pick<CareSheetPayload, 'calendar' | 'food' | 'climate'> {
  const { hatch } = eggCase
  const calendar =
    hatch &&
    Array.from({ length: days }, (_, offset): SheetCalendarDay => {
      const on = addDays(today, offset)
      return { on, kind: hatch.fromOn <= on && on <= hatch.toOn ? 'moult' : 'none' }
    })
  if (!profile) return { calendar }
  const now = feedingAdvice(profile, { sex: 'unsexed', moults: 0 })
  return {
    calendar,
    food: sheetFood({ now, next: null }),
    climate: { ...sheetClimate(profile, 'unsexed'), adultLifeWeeks: null },
  }
}
