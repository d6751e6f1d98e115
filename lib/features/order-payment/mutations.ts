import { writeDay } from '@/lib/domain/calendar/wording'
import { writeMoney } from '@/lib/domain/money/money'
import { lockOrder, refuseStaleOrder } from '@/lib/features/order/data'
import { takeOrderBalance, takeOrderPayment } from '@/lib/features/order-payment/data'
import type { PayingOrder, PaymentReversal } from '@/lib/features/order-payment/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned } from '@/lib/platform/warned'
import type { Actor } from '@/lib/platform/workspace'

/** What was paid for an order, whole or in part, before or after it left. @throws AppError invalid, stale */
export async function createOrderPayment(
  tx: Tx,
  actor: Actor,
  { order: id, version, ...payment }: PayingOrder,
): Promise<Warned<{ id: string }>> {
  const order = await lockOrder(tx, actor.workspace.workspaceId, id)
  refuseStaleOrder(order, version)
  await takeOrderPayment(tx, actor, { order: id, payment })
  return { value: { id }, warnings: [] }
}

/**
 * Money of a payment that went back, whole or in part: it is owed again, or waived.
 * @throws AppError more-than-left where less of the payment is left; not-found for a payment that is none
 */
export async function reverseOrderPayment(
  tx: Tx,
  { scope, workspace }: Actor,
  { order: id, version, payment: number, kind, amount, isWaived, reason, ...given }: PaymentReversal,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today, currency } = workspace
  const order = await lockOrder(tx, workspaceId, id)
  refuseStaleOrder(order, version)
  const payment = order.payments.find((one) => one.number === number && one.reverses === null)
  if (!payment) throw refuseUnknown('payment')
  const on = given.on ?? today
  refuseFuture('on', on, today)
  if (on < payment.on) throw refuseField('on', `It was paid on ${writeDay(payment.on, today)}.`)
  const left = payment.amountMinor - payment.returnedMinor
  const amountMinor = amount ?? left
  if (left === 0 || amountMinor > left) throw refuseMore(writeMoney(left, currency, 'en'), left)
  await tx.orderPayment.create({
    data: {
      ...{ workspaceId, orderId: id, amountMinor, reverses: number },
      number: order.payments.length + 1,
      kind: kind ?? payment.kind,
      on: fromPlainDate(on),
      waived: isWaived,
      note: reason,
      takenBy: scope.personId,
    },
  })
  await takeOrderBalance(tx, workspaceId, id)
  return { value: { id }, warnings: [] }
}

function refuseMore(said: string, left: number): AppError {
  const what = left === 0 ? 'All of this payment went back before.' : `Only ${said} of this payment are left.`
  return new AppError('more-than-left', what, {
    fields: [{ path: 'amount', message: left === 0 ? 'Nothing is left.' : `At most ${said}.` }],
  })
}
