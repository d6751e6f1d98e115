import { addDays, type PlainDate } from '../calendar/date'
import { type CheckedDay, checkDay, type Hold } from './day'
import type { DispatchQuestion } from './order'

/** Weekdays on which nothing is sent hold everything alike and are not told. */
export type ToldHold = Exclude<Hold, { by: 'weekday' }>

/** One thing that keeps an order here, with the stretches of sending days on which it does. */
export type HeldUp = { hold: ToldHold; stretches: { from: PlainDate; until: PlainDate }[] }

export type DispatchAnswer = {
  /** The first days on which everything can go. */
  days: CheckedDay[]
  /** What is in the way on the days before the last of those, or on all that were looked at. */
  heldUp: HeldUp[]
  lookedUntil: PlainDate
}

export const DAYS_OFFERED = 3

/** The first safe dispatch days of an order, and what blocks the others. O(days × animals × lines). */
export function firstDispatchDays(question: DispatchQuestion, offered = DAYS_OFFERED): DispatchAnswer {
  const days: CheckedDay[] = []
  const sending: CheckedDay[] = []
  const from = question.from ?? question.today
  let packOn = from
  for (let ahead = 0; ahead < question.horizonDays && days.length < offered; ahead += 1) {
    packOn = addDays(from, ahead)
    const day = checkDay(packOn, question)
    if (day.holds.some(({ by }) => by === 'weekday')) continue
    sending.push(day)
    if (day.holds.length === 0) days.push(day)
  }
  return { days, heldUp: gather(sending), lookedUntil: packOn }
}

/** One entry per cause, in the order in which they first come up; closed days last. */
function gather(sending: readonly CheckedDay[]): HeldUp[] {
  const found = new Map<string, HeldUp & { lastIndex: number }>()
  for (const [index, { packOn, holds }] of sending.entries())
    for (const hold of holds) {
      if (hold.by === 'weekday') continue
      const key = `${hold.by} ${keyOf(hold)} ${hold.message}`
      const known = found.get(key) ?? { hold, stretches: [], lastIndex: -2 }
      const last = known.stretches.at(-1)
      if (last && known.lastIndex === index - 1) last.until = packOn
      else known.stretches.push({ from: packOn, until: packOn })
      found.set(key, { ...known, lastIndex: index })
    }
  const isClosed = ({ hold }: HeldUp) => (hold.by === 'closed-day' ? 1 : 0)
  return [...found.values()]
    .map(({ hold, stretches }) => ({ hold, stretches }))
    .sort((one, other) => isClosed(one) - isClosed(other))
}

function keyOf(hold: ToldHold): string {
  if (hold.by === 'animal') return hold.animal
  return hold.by === 'line' ? String(hold.line) : ''
}
