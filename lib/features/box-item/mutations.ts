import type { PackingItem, UnpackingItem } from '@/lib/features/box-item/schema'
import { loadOrdersOfStock, requireOrderable } from '@/lib/features/order-stock/data'
import { lockShowBox, takeBoxOn } from '@/lib/features/show-box/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Warned } from '@/lib/platform/warned'
import type { Workspace } from '@/lib/platform/workspace'

/**
 * Puts so many of something of the stock into a part of a box. They stay in the stock until a receipt of theirs arrives.
 * @throws AppError stale, not-found; already-gone for an egg case or a jar that is not here
 */
export async function recordBoxItem(
  tx: Tx,
  workspace: Workspace,
  { part, line, ...which }: PackingItem,
): Promise<Warned<{ version: number }>> {
  const { workspaceId } = workspace
  const box = await lockShowBox(tx, workspaceId, which)
  if (line.kind === 'other') throw refuseField('item', 'Choose what.')
  if (!box.parts.some(({ number }) => number === part)) throw refuseUnknown('part of a show box')
  const { columns, warnings } = await requireOrderable(tx, workspace, line)
  const { quantity: packed, ...named } = columns
  const ids = [columns.eggCaseId, columns.cultureId].flatMap((id) => id ?? [])
  const [ordered] = (await loadOrdersOfStock(tx, workspaceId, ids)).values()
  const promised =
    ordered === undefined ? [] : [{ code: 'ordered', message: `It is chosen for order ${ordered}.` }]
  await tx.showBoxItem.create({
    data: {
      ...{ workspaceId, boxId: box.id, number: box.items.length + 1, partNumber: part },
      ...{ ...named, kind: line.kind, packed, priceMinor: line.price },
    },
  })
  return { value: { version: await takeBoxOn(tx, workspaceId, box) }, warnings: [...warnings, ...promised] }
}

/** It stays at home after all; what is on a receipt already counts all the same. @throws AppError stale, not-found */
export async function endBoxItem(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { number, ...which }: UnpackingItem,
): Promise<{ version: number }> {
  const box = await lockShowBox(tx, workspaceId, which)
  const out = await tx.showBoxItem.updateMany({
    where: { workspaceId, boxId: box.id, number, removedOn: null },
    data: { removedOn: fromPlainDate(today) },
  })
  if (out.count === 0) throw refuseUnknown('thing in this box')
  return { version: await takeBoxOn(tx, workspaceId, box) }
}
