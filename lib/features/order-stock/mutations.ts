import { lockOpenOrder } from '@/lib/features/order/data'
import { takeOrderBalance } from '@/lib/features/order-payment/data'
import { takeOrderStock } from '@/lib/features/order-stock/data'
import type { OrderStockChange } from '@/lib/features/order-stock/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Warned } from '@/lib/platform/warned'
import type { Workspace } from '@/lib/platform/workspace'

/**
 * Puts things of the stock on an order that is still here, or takes them off.
 * @throws AppError invalid at a line that is not on it, or where nothing would be left of the order
 */
export async function updateOrderStock(
  tx: Tx,
  workspace: Workspace,
  { add, remove, ...versioned }: OrderStockChange,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  const { id, lines, stock } = await lockOpenOrder(tx, workspaceId, versioned)
  remove.forEach((number, index) => {
    if (!stock.some((line) => line.number === number))
      throw refuseField(`remove.${index}`, `There is no line ${number}.`)
  })
  const kept = stock.filter(({ number }) => !remove.includes(number))
  if (lines.every(({ count }) => count === 0) && kept.length + add.length === 0)
    throw refuseField('remove', 'Then nothing would be left of it: take the order back instead.')
  if (remove.length > 0)
    await tx.orderStockLine.updateMany({
      where: { workspaceId, orderId: id, number: { in: remove }, removedOn: null },
      data: { removedOn: fromPlainDate(today) },
    })
  const first = (await countStockLines(tx, workspace, id)) + 1
  const warnings = await takeOrderStock(tx, workspace, { order: id, first, lines: add })
  await takeOrderBalance(tx, workspaceId, id)
  return { value: { id }, warnings }
}

/** Those that were taken off keep their numbers. */
async function countStockLines(tx: Tx, { workspaceId }: Workspace, orderId: string): Promise<number> {
  return tx.orderStockLine.count({ where: { workspaceId, orderId } })
}
