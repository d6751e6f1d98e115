import type { PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { LEAST_CHANCE } from '@/lib/domain/care-sheet/calendar'
import type { FeedingAdvice } from '@/lib/domain/care-sheet/feeding'
import type { HousingNeed } from '@/lib/domain/care-sheet/housing'
import type { ComingMoult } from '@/lib/domain/development/forecast'
import type { MoultTimeline } from '@/lib/domain/development/timeline'
import type { SheetClimate, SheetFood, SheetHome, SheetMoult, SheetTimeline, SheetWindow } from './payload'

/** What the core works out, in the shape a care sheet takes it; nothing is computed anew here. */
type NowAndNext<T> = { now: T; next: T | null }

export function sheetFood(
  advice: NowAndNext<FeedingAdvice>,
  soldHere: SheetFood['soldHere'] = null,
): SheetFood {
  const portions = ({ offerings, everyDays }: FeedingAdvice) =>
    offerings.map((offering) => ({ ...offering, perDays: everyDays }))
  return {
    now: portions(advice.now),
    next: advice.next && portions(advice.next),
    longestPreyMm: advice.now.longestPreyMm,
    soldHere,
  }
}

export function sheetHome(need: NowAndNext<HousingNeed>): SheetHome {
  const { now, next } = need
  return { now, next, hangSpaceMm: now.hangSpaceMm }
}

/** The steps that were seen; the expected one is drawn from the window. */
export function sheetTimeline(timeline: MoultTimeline, isAdult: boolean): SheetTimeline {
  const seen = timeline.steps.filter((step) => step.state !== 'expected')
  return {
    steps: seen.map(({ moults, from, to, lengthMm }) => ({
      moults,
      from,
      to,
      lengthMm,
      isAdult: isAdult && to === null,
    })),
  }
}

/** `softUntilOn` is the first day of handling after the last moult, undefined once the skin is hard. */
export function sheetMoult(timeline: MoultTimeline, softUntilOn?: PlainDate | null): SheetMoult {
  const { window, leaveAlone, steps } = timeline
  return {
    fromOn: window?.p10,
    likelyOn: window?.p50,
    toOn: window?.p90,
    leaveAloneUntilOn: leaveAlone?.until,
    nextLengthMm: steps.find((step) => step.state === 'expected')?.lengthMm,
    softUntilOn,
  }
}

/** The same moults that `sheetCalendar` marks: those that more animals make than skip. */
export function sheetWindows(moults: readonly Pick<ComingMoult, 'p10' | 'p90' | 'chance'>[]): SheetWindow[] {
  return moults
    .filter(({ chance }) => chance >= LEAST_CHANCE)
    .map(({ p10, p90 }) => ({ fromOn: p10, toOn: p90 }))
}

/** Life of adults only where the sex is sure enough to name it. */
export function sheetClimate({ keeping }: CareProfile, sex: 'male' | 'female' | 'unsexed'): SheetClimate {
  return {
    dayC: keeping.dayC.value,
    lowestNightC: keeping.lowestNightC.value,
    hotSpotC: keeping.hotSpotC.value,
    humidityPct: keeping.humidityPct.value,
    mistingEveryDays: keeping.mistingEveryDays.value,
    adultLifeWeeks: sex === 'unsexed' ? null : keeping.adultLifeWeeks[sex].value,
  }
}
