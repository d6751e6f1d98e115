import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'

type Hold = { individualId: string; buyerId: string; until: PlainDate }

/**
 * "for another buyer until 3 Dec", where an animal is held for somebody else. Never the name: these words are kept beside
 * the sale, and a person who is forgotten must not stay in them.
 */
export function sayHold(
  holds: readonly Hold[],
  { id, buyer, today }: { id: string; buyer: string | null; today: PlainDate },
): string | null {
  const hold = holds.find(({ individualId }) => individualId === id)
  if (!hold || hold.buyerId === buyer) return null
  return `for another buyer until ${writeDay(hold.until, today)}`
}
