import type { PlainDate } from '../calendar/date'
import type { DispatchAnswer } from '../dispatch/days'
import { sayPacking } from '../dispatch/gate'
import { sayHeldUp, writeWeekday } from '../dispatch/wording'
import type { DayTask } from './task'

export type OrderSubject = {
  id: string
  number: number
  version: number
  way: 'sent' | 'collected'
  paidOn: PlainDate | null
  /** Something was paid, and something is owed. */
  isPartlyPaid: boolean
  notBefore: PlainDate | null
  today: PlainDate
  /** Every place has its animal. */
  isChosen: boolean
  names: { animal: (id: string) => string }
}

/** An order that can go today, or what keeps it here. One that is not wanted before another day is not spoken of. */
export function orderTask(order: OrderSubject, answer: DispatchAnswer): DayTask[] {
  const { id, number, version, way, today, notBefore, isChosen } = order
  if (notBefore && notBefore > today) return []
  const first = answer.days[0]
  const isToday = first?.packOn === today
  const common = { scientificName: null, costPerDay: 0 }
  const subject = { type: 'order' as const, id, version, isReady: isToday && isChosen }
  if (isToday)
    return [
      {
        ...common,
        subject,
        state: 'due',
        kind: way === 'sent' ? 'send-order' : 'hand-over-order',
        title: way === 'sent' ? `Send order ${number} today` : `Order ${number} can be collected`,
        why: sayReady(order, answer),
      },
    ]
  const [held] = answer.heldUp
  if (first && !held)
    return [
      {
        ...common,
        subject,
        state: 'fine',
        kind: 'wait-order',
        title: `Order ${number} can ${way === 'sent' ? 'go' : 'be collected'} on ${writeWeekday(first.packOn, today)}`,
        why: isChosen ? 'Its animals are chosen.' : 'Its animals are chosen on packing day.',
      },
    ]
  const when = first ? `first possible on ${writeWeekday(first.packOn, today)}` : 'no day is in sight yet'
  const why = held ? ` ${sayHeldUp(held, order.names, today)}` : ''
  const verb = way === 'sent' ? 'cannot go yet' : 'stays here for its buyer'
  return [
    {
      ...common,
      subject,
      state: 'leave-alone',
      kind: 'wait-order',
      title: `Order ${number} ${verb}: ${when}`,
      why: why.trim(),
    },
  ]
}

function sayReady({ way, paidOn, isPartlyPaid, isChosen }: OrderSubject, { days }: DispatchAnswer): string {
  const [first] = days
  const choose = isChosen ? '' : 'Choose its animals.'
  const paid = paidOn ? 'Paid.' : isPartlyPaid ? 'Paid in part.' : 'Not paid yet.'
  const packing =
    first?.packing && first.missingAir === null
      ? `Air ${first.packing.reason}: ${sayPacking(first.packing)}.`
      : ''
  const air = way === 'sent' ? packing || (first?.missingAir ?? '') : ''
  return [choose, paid, air].filter(Boolean).join(' ')
}
