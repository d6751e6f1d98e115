import { addDays, daysBetween, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareSheetPayload } from './payload'

const SHORTEST_SHOWN_DAYS = 2

/**
 * The window as a sheet may show it: never narrower than three days, because a sheet never names the day of a
 * moult, and never beginning in the past. `isPassed` when all of it is over: each animal keeps its own time.
 */
export type ShownWindow = { fromOn: PlainDate; toOn: PlainDate; isOpen: boolean; isPassed: boolean }

export function shownWindow({ moult, animal, printedOn }: CareSheetPayload): ShownWindow | null {
  if (!moult?.fromOn || !moult.toOn || animal.stage?.isAdult) return null
  const isPassed = moult.toOn <= printedOn
  const isOpen = !isPassed && moult.fromOn <= printedOn
  const fromOn = maxDate(moult.fromOn, printedOn)
  const isTooNarrow = daysBetween(fromOn, moult.toOn) < SHORTEST_SHOWN_DAYS
  return { fromOn, toOn: isTooNarrow ? addDays(fromOn, SHORTEST_SHOWN_DAYS) : moult.toOn, isOpen, isPassed }
}
