import { writeDay } from '@/lib/domain/calendar/wording'
import { writeMoney } from '@/lib/domain/money/money'
import { balanceOfOrder, requireOrder, takeOrderOn } from '@/lib/features/order/data'
import type { OrderPaying } from '@/lib/features/order-payment/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseField } from '@/lib/platform/errors'
import { fromPlainDate, fromPlainDateOrNull } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Actor, WorkspaceId } from '@/lib/platform/workspace'

/** `at`: where the payment stands in what was sent, so that a mistake is said there. */
export type TakingPayment = { order: string; payment: OrderPaying; at?: string }

/**
 * Writes a payment down for an order whose row is locked, and whether anything is still owed.
 * @throws AppError invalid where nothing is owed, more is paid than that, or on a day that cannot be
 */
export async function takeOrderPayment(
  tx: Tx,
  { scope, workspace }: Actor,
  { order: orderId, payment, at = '' }: TakingPayment,
): Promise<void> {
  const { workspaceId, today, currency } = workspace
  const order = await requireOrder(tx, workspaceId, orderId)
  const on = payment.on ?? today
  refuseFuture(`${at}on`, on, today)
  if (on < order.orderedOn)
    throw refuseField(`${at}on`, `It was ordered on ${writeDay(order.orderedOn, today)}.`)
  const { owedMinor } = balanceOfOrder(order)
  if (owedMinor === 0) throw refuseField(`${at}amount`, 'Nothing is owed for this order.')
  const amountMinor = payment.amount ?? owedMinor
  if (amountMinor > owedMinor)
    throw refuseField(`${at}amount`, `Only ${writeMoney(owedMinor, currency, 'en')} are owed.`)
  await tx.orderPayment.create({
    data: {
      ...{ workspaceId, orderId, amountMinor },
      number: order.payments.length + 1,
      kind: payment.kind,
      on: fromPlainDate(on),
      note: payment.note,
      takenBy: scope.personId,
    },
  })
  await takeOrderBalance(tx, workspaceId, orderId)
}

/** Keeps with a locked order the day since which nothing is owed, and counts its version on. */
export async function takeOrderBalance(tx: Tx, workspaceId: WorkspaceId, orderId: string): Promise<void> {
  const order = await requireOrder(tx, workspaceId, orderId)
  const { paidInFullOn } = balanceOfOrder(order)
  await takeOrderOn(tx, workspaceId, { id: orderId, data: { paidOn: fromPlainDateOrNull(paidInFullOn) } })
}
