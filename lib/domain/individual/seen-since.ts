import { addDays, maxDate, type PlainDate } from '../calendar/date'

/**
 * Looks further back than this do not widen the day of a moult that somebody typed: they say that looks were not
 * written down, not that nobody looked.
 */
export const SEEN_WITHIN_DAYS = 10

/** A skin found on a round may have lain there since the last recorded look, however careless that looks. */
export const ROUND_SEEN_WITHIN_DAYS = 30

export type SeenBefore = {
  /** Days on which the animal was looked at, ascending. */
  lookDays: readonly PlainDate[]
  /** When its present instar began, as far as known. */
  lastMoultOn: PlainDate | null
  withinDays: number
}

/**
 * Since when a moult noticed on a day may have happened: the last day before it on which the animal was seen without
 * a skin, in the same instar. Null where nobody had looked, or not for longer than `withinDays`: then the day stands.
 */
export function seenSince(
  on: PlainDate,
  { lookDays, lastMoultOn, withinDays }: SeenBefore,
): PlainDate | null {
  const last = lookDays.findLast((day) => day < on)
  if (last === undefined || last < addDays(on, -withinDays)) return null
  // A look before the last moult tells nothing of this instar, but that moult itself was noticed on a look.
  const since = lastMoultOn ? maxDate(last, lastMoultOn) : last
  return since < on ? since : null
}
