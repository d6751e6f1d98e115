import { addDays, type PlainDate } from '../calendar/date'
import { sharesByDay } from './deadline'
import type { SeparationInput } from './input'
import { hangingOf } from './sighting'

/** From this expected share of siblings that moult within a day on, the group hangs or is soft (default). */
const MOULTING_SHARE = 0.2

/**
 * The days, of those asked for, on which siblings are better not touched: too many of them hang or are soft, as is
 * expected of them or as somebody saw.
 */
export function untouchableDays(input: SeparationInput, dates: readonly PlainDate[]): PlainDate[] {
  const hanging = hangingOf(input.sightings ?? [], input)
  const softUntil = hanging && hanging.count > MOULTING_SHARE * input.together ? hanging.until : input.today
  const shares = sharesByDay(input)
  const meanMoults = (on: PlainDate) => shares(on).reduce((sum, share, moults) => sum + share * moults, 0)
  return dates.filter((on) => on < softUntil || meanMoults(addDays(on, 1)) - meanMoults(on) > MOULTING_SHARE)
}

/** The first day on which hatchlings are hard enough to be taken into a cup. */
export function firstSafeDay({
  profile,
  hatchedOn,
}: Pick<SeparationInput, 'profile' | 'hatchedOn'>): PlainDate {
  return addDays(hatchedOn, profile.handling.hardeningDays.value.nymph)
}
