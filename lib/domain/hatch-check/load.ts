import { addDays, daysBetween, maxDate, minDate, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import type { TemperatureHistory } from '../development/clock'
import { forecastRoom, type RoomSeries } from '../room-forecast/forecast'
import { forecastSeparation } from '../separation/deadline'
import type { SeparationLabour } from '../separation/plan-room'

/**
 * What one hatch asks of a room, by week: nymphs to part in the seven days up to their deadline, and from then on a
 * cup for each of them and its feedings. Counts follow the survival of the care profile.
 */
export type HatchLoad = {
  hatchOn: PlainDate
  nymphs: number
  /** Null where siblings may stay together: nobody has to be parted. */
  dueOn: PlainDate | null
  weeks: WeekLoad[]
}

export type WeekLoad = {
  week: PlainDate
  living: number
  partingMinutes: number
  feedingMinutes: number
  cups: number
}

/** How siblings get on in a place from their hatch on, for one hatchling: living by day of age, and by stage. */
export type HatchGrowth = { living: readonly number[]; stages: readonly RoomSeries[] }

export type HatchPlace = {
  profile: CareProfile
  history: TemperatureHistory
  labour: SeparationLabour
  growth: HatchGrowth
}

export type WeekSpan = { from: PlainDate; weeks: number }

const SPECIES = 'hatch'
const ZONE = 'here'
/** A group that stands for one hatchling, so that whole animals do not matter. */
const HATCHLINGS = 200
/** Parted over so many evenings up to the deadline. */
const EVENINGS = 3
const PARTING_DAYS = 7

/** Played once for a species and a zone from a day on; every hatch there follows it by its age. */
export function hatchGrowth(
  place: Pick<HatchPlace, 'profile' | 'history'>,
  span: { from: PlainDate; days: number },
): HatchGrowth {
  const group = { speciesId: SPECIES, zoneId: ZONE, clutchId: null, count: HATCHLINGS, ageEffectiveDays: 0 }
  const { series, totals } = forecastRoom({
    today: span.from,
    days: span.days,
    species: [{ id: SPECIES, profile: place.profile }],
    zones: [{ id: ZONE, history: place.history }],
    animals: [],
    groups: [group],
    eggCases: [],
    sales: [],
  })
  const perHatchling = (counts: readonly number[]) => counts.map((count) => count / HATCHLINGS)
  return {
    living: perHatchling(totals[0]?.mean ?? []),
    stages: series.map((one) => ({ ...one, mean: perHatchling(one.mean) })),
  }
}

export function hatchLoad(
  hatch: { on: PlainDate; nymphs: number; dueOn?: PlainDate | null },
  place: HatchPlace,
  span: WeekSpan,
): HatchLoad {
  const share = place.growth.living
  const living = (on: PlainDate) => {
    const age = daysBetween(hatch.on, on)
    return age < 0 ? 0 : hatch.nymphs * (share[Math.min(age, share.length - 1)] ?? 0)
  }
  const dueOn = hatch.dueOn === undefined ? deadlineOf(hatch, place) : hatch.dueOn
  return {
    hatchOn: hatch.on,
    nymphs: hatch.nymphs,
    dueOn,
    weeks: Array.from({ length: span.weeks }, (_, index) =>
      weekLoad(addDays(span.from, 7 * index), {
        hatch,
        dueOn,
        living,
        labour: place.labour,
        from: span.from,
      }),
    ),
  }
}

/** The last day on which all of them may stand together. */
export function deadlineOf(
  hatch: { on: PlainDate; nymphs: number },
  { profile, history }: Pick<HatchPlace, 'profile' | 'history'>,
): PlainDate | null {
  const together = Math.max(2, Math.round(hatch.nymphs))
  return forecastSeparation({ profile, hatchedOn: hatch.on, together, history, today: hatch.on }).dueOn
}

function weekLoad(
  week: PlainDate,
  of: {
    hatch: { on: PlainDate }
    dueOn: PlainDate | null
    living: (on: PlainDate) => number
    labour: SeparationLabour
    /** Nothing can be done before. */
    from: PlainDate
  },
): WeekLoad {
  const { dueOn, living, labour } = of
  const until = addDays(week, 7)
  const days = Array.from({ length: 7 }, (_, day) => addDays(week, day))
  const mean = days.reduce((sum, on) => sum + living(on), 0) / 7
  if (dueOn === null) return { week, living: mean, partingMinutes: 0, feedingMinutes: 0, cups: 0 }
  const from = maxDate(maxDate(of.hatch.on, of.from), addDays(dueOn, 1 - PARTING_DAYS))
  const span = daysBetween(from, dueOn) + 1
  const inside = Math.max(0, daysBetween(maxDate(from, week), minDate(addDays(dueOn, 1), until)))
  const toPart = living(dueOn)
  const partingMinutes =
    (inside / span) * (EVENINGS * labour.minutesPerClutchEvening + (toPart * labour.secondsPerNymph) / 60)
  const perCupDay = labour.secondsPerCupFeeding / 60 / labour.daysBetweenFeedings
  const cupDays = days.reduce((sum, on) => sum + (on > dueOn ? living(on) : 0), 0)
  const last = minDate(addDays(until, -1), dueOn)
  const parted = dueOn < week ? living(week) : (toPart * Math.max(0, daysBetween(from, last) + 1)) / span
  return {
    week,
    living: mean,
    partingMinutes,
    feedingMinutes: perCupDay * cupDays,
    cups: until <= from ? 0 : Math.min(parted, toPart),
  }
}
