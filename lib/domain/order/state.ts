import type { PlainDate } from '../calendar/date'
import { writeDay } from '../calendar/wording'

/** Where an order is, by its days. */
export type OrderFacts = {
  way: 'sent' | 'collected'
  leftOn: PlainDate | null
  arrivedOn: PlainDate | null
  cancelledOn: PlainDate | null
  paidOn: PlainDate | null
  lost: number
  claimEnd: 'nothing' | 'refund' | 'replacement' | null
}

export const ORDER_STATES = ['open', 'on-its-way', 'to-settle', 'done', 'cancelled'] as const
export type OrderState = (typeof ORDER_STATES)[number]

/** A loss on the way stays open until somebody says what came of it. */
export function orderState({ way, leftOn, arrivedOn, cancelledOn, lost, claimEnd }: OrderFacts): OrderState {
  if (cancelledOn !== null) return 'cancelled'
  if (leftOn === null) return 'open'
  if (way === 'collected') return 'done'
  if (arrivedOn === null) return 'on-its-way'
  return lost > 0 && claimEnd === null ? 'to-settle' : 'done'
}

export function sayOrderState(facts: OrderFacts, today: PlainDate): string {
  const state = orderState(facts)
  if (state === 'cancelled') return `cancelled ${writeDay(facts.cancelledOn ?? today, today)}`
  if (state === 'open') return facts.paidOn ? 'paid, still here' : 'open'
  if (state === 'on-its-way') return `on its way since ${writeDay(facts.leftOn ?? today, today)}`
  if (state === 'to-settle') return 'arrived with losses'
  if (facts.way === 'collected') return `collected ${writeDay(facts.leftOn ?? today, today)}`
  return `arrived ${writeDay(facts.arrivedOn ?? today, today)}`
}

/** Whether a loss was told within the hours that the seller asks for, and the words for it. */
export function claimTime(
  { arrivedMs, reportedMs }: { arrivedMs: number; reportedMs: number },
  claimHours: number,
): { isInTime: boolean; words: string } {
  const hours = Math.max(0, (reportedMs - arrivedMs) / 3_600_000)
  const isInTime = hours <= claimHours
  const said = hours < 1 ? 'within an hour' : `${Math.ceil(hours)} hours after the arrival`
  const words = isInTime
    ? `Reported ${said}; ${claimHours} hours were agreed.`
    : `Reported ${said}, later than the ${claimHours} hours that were agreed.`
  return { isInTime, words }
}
