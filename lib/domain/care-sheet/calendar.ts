import { addDays, maxDate, type PlainDate } from '../calendar/date'
import type { ComingMoult } from '../development/forecast'

/**
 * The small calendar of a care sheet. A day inside a moult window says "follow the signs"; outside the
 * windows the feeding days are marked; the days until the skin is hard after the last moult are neither.
 */
export type SheetDay = { on: PlainDate; kind: 'moult' | 'feed' | 'none' }

export type SheetCalendarInput = {
  today: PlainDate
  /** Windows of the coming moults, later ones wider. */
  moults: readonly Pick<ComingMoult, 'p10' | 'p90' | 'chance'>[]
  /** Days from one feeding to the next. */
  everyDays: number
  lastFedOn?: PlainDate | null
  /** First day on which it may be fed again after its last moult. */
  softUntil?: PlainDate | null
  days?: number
}

const EIGHT_WEEKS = 56
/** A moult that more animals skip than make is not drawn. */
export const LEAST_CHANCE = 0.5

export function sheetCalendar(input: SheetCalendarInput): SheetDay[] {
  const windows = input.moults.filter(({ chance }) => chance >= LEAST_CHANCE)
  const every = Math.max(1, Math.round(input.everyDays))
  let feedOn = input.lastFedOn ? addDays(input.lastFedOn, every) : input.today
  feedOn = maxDate(maxDate(feedOn, input.today), input.softUntil ?? input.today)
  return Array.from({ length: input.days ?? EIGHT_WEEKS }, (_, offset): SheetDay => {
    const on = addDays(input.today, offset)
    if (windows.some(({ p10, p90 }) => p10 <= on && on <= p90)) return { on, kind: 'moult' }
    if (on < feedOn) return { on, kind: 'none' }
    feedOn = addDays(on, every)
    return { on, kind: 'feed' }
  })
}
