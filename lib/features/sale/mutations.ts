import { requireBuyer } from '@/lib/features/buyer/data'
import { endAddressLater, listDispatchWarnings } from '@/lib/features/dispatch/data'
import { lockOpenOrder, type OrderLineRow, type OrderRow, takeOrderOn } from '@/lib/features/order/data'
import type { Leaving } from '@/lib/features/order/schema'
import { takeOrderBalance, takeOrderPayment } from '@/lib/features/order-payment/data'
import { subjectOfOrdered } from '@/lib/features/order-stock/data'
import { takeSale } from '@/lib/features/receipt/data'
import type { NewSale } from '@/lib/features/sale/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned } from '@/lib/platform/warned'
import type { Actor, WorkspaceId } from '@/lib/platform/workspace'

/** Sells animals and stock at the counter or over the API. What is refused and what is only told: `takeSale`. */
export function createSale(tx: Tx, actor: Actor, sale: NewSale): Promise<Warned<{ id: string }>> {
  return takeSale(tx, actor, sale)
}

/**
 * Packed and sent, or handed over: an order with an animal for every place becomes a sale, and what of the stock goes
 * with it leaves the stock. Its payments are those of the order, before it and after. What spoke against the day
 * is kept and answered, and refuses nothing.
 * @throws AppError invalid while a place is empty; already-recorded the second time
 */
export async function recordOrderSale(
  tx: Tx,
  actor: Actor,
  { order: id, version, on, carrier, note, payments }: Leaving,
): Promise<Warned<{ id: string }>> {
  const { workspace } = actor
  const { workspaceId, today } = workspace
  const order = await lockOpenOrder(tx, workspaceId, { order: id, version })
  refuseFuture('on', on, today)
  if (on < order.orderedOn) throw refuseField('on', 'This is before it was ordered.')
  const short = order.lines.find(({ count, chosen }) => chosen.length < count)
  if (short) throw refuseEmptyPlaces(short)
  const against = await listDispatchWarnings(tx, workspace, { order, on })
  for (const [index, payment] of payments.entries())
    await takeOrderPayment(tx, actor, { order: id, payment, at: `payments.${index}.` })
  const animals = order.lines.flatMap(({ chosen, priceMinor }) =>
    chosen.map(({ id: individual }) => ({ kind: 'animal' as const, individual, ...termsOf(priceMinor) })),
  )
  const stock = order.stock.map((line) => ({ ...subjectOfOrdered(line), ...termsOf(line.priceMinor) }))
  const lines = [...animals, ...stock]
  const words = [`Order ${order.number}`, note].filter(Boolean).join('. ')
  const sale = await createSale(tx, actor, {
    ...{ on, lines, note: words, order: order.number, buyer: await nameOnReceipt(tx, workspaceId, order) },
    ...{ discountMinor: 0, payments: [], certifiedNumber: '', hasLeft: order.way === 'sent' },
  })
  const warnings = [...against, ...sale.warnings]
  const data = { leftOn: fromPlainDate(on), carrier, saleId: sale.value.id, warnings }
  await takeOrderOn(tx, workspaceId, { id, data })
  await takeOrderBalance(tx, workspaceId, id)
  await endAddressLater(tx, workspace, { order, since: on })
  return { value: sale.value, warnings }
}

/** A person who asked to be forgotten meanwhile is not named, and the box leaves all the same. */
async function nameOnReceipt(
  tx: Tx,
  workspaceId: WorkspaceId,
  { buyerId }: OrderRow,
): Promise<string | null> {
  if (buyerId === null) return null
  const { erasureAskedOn } = await requireBuyer(tx, workspaceId, buyerId)
  return erasureAskedOn === null ? buyerId : null
}

/** As ordered: the price that was agreed, and the rate of tax that is set for its kind. */
function termsOf(unitPriceMinor: number) {
  return { unitPriceMinor, discountMinor: 0, taxBasisPoints: null, overrideReason: '', at: 'on' }
}

function refuseEmptyPlaces({ number, chosen, count }: OrderLineRow): AppError {
  return new AppError(
    'invalid',
    `Line ${number} has ${chosen.length} of ${count} animals. Choose the others, or split the order.`,
  )
}
