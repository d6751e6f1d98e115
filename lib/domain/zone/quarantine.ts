import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'

/** `until`: the first day on which what stands there may leave again. */
export function isQuarantined(quarantineUntil: PlainDate | null | undefined, today: PlainDate): boolean {
  return quarantineUntil !== null && quarantineUntil !== undefined && quarantineUntil > today
}

/** "in quarantine until 3 Dec", or null where it is in none. */
export function sayQuarantine(
  quarantineUntil: PlainDate | null | undefined,
  today: PlainDate,
): string | null {
  if (!quarantineUntil || !isQuarantined(quarantineUntil, today)) return null
  return `in quarantine until ${writeDay(quarantineUntil, today)}`
}

/** The order of a round: what is in quarantine last, so that nothing is carried from it to the others. Stable. */
export function quarantineLast<Zone extends { quarantineUntil: PlainDate | null }>(
  zones: readonly Zone[],
  today: PlainDate,
): Zone[] {
  const isLast = ({ quarantineUntil }: Zone) => isQuarantined(quarantineUntil, today)
  return [...zones.filter((zone) => !isLast(zone)), ...zones.filter(isLast)]
}
