import { maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { shareOut } from '@/lib/domain/money/share'
import { type SettledItems, settleItems } from '@/lib/domain/show-box/settle'
import { requireContainerKind } from '@/lib/features/container/data'
import { requireCulture } from '@/lib/features/culture/data'
import { requireEggCase } from '@/lib/features/egg-case/data'
import type { LineTerms, NewSaleLine } from '@/lib/features/sale/schema'
import type { BoxItemRow } from '@/lib/features/show-box/data'
import type { StockSubject } from '@/lib/features/stock-line/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import type { Warning } from '@/lib/platform/warned'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** So many of a thing of a box on a receipt that stands. */
export type SoldItem = Omit<LineTerms, 'overrideReason' | 'told'> & {
  item: BoxItemRow | null
  description: string
  quantity: number
}

/** What there is of a thing by the records, and the last day that its record knows. */
type StockLeft = { left: number; lastOn: PlainDate | null }

const keyOf = ({ kind, subjectId }: Pick<BoxItemRow, 'kind' | 'subjectId'>) => `${kind} ${subjectId}`

/**
 * Lines of a receipt that a buyer has in hand already. What is there by the records leaves the stock; what is not stays
 * on the receipt in words, with what is said of it, so that nothing of it is lost. The rows stay locked, in one order for
 * everybody, so that what was asked about is still there when it is taken.
 */
export async function lockSoldItems(
  tx: Tx,
  workspaceId: WorkspaceId,
  sold: readonly SoldItem[],
): Promise<{ lines: NewSaleLine[]; earliest: PlainDate | null }> {
  const left = await lockStockLeft(
    tx,
    workspaceId,
    sold.flatMap(({ item }) => item ?? []),
  )
  const lines = sold.flatMap((line) => {
    const known = line.item ? left.get(keyOf(line.item)) : undefined
    const taken = Math.min(line.quantity, known?.left ?? 0)
    if (known) known.left -= taken
    return linesOf(line, taken)
  })
  const days = [...left.values()].flatMap(({ lastOn }) => lastOn ?? [])
  return { lines, earliest: days.length > 0 ? days.reduce(maxDate) : null }
}

async function lockStockLeft(
  tx: Tx,
  workspaceId: WorkspaceId,
  items: readonly BoxItemRow[],
): Promise<Map<string, StockLeft>> {
  const found = new Map<string, StockLeft>()
  for (const item of items.toSorted((a, b) => keyOf(a).localeCompare(keyOf(b)))) {
    if (found.has(keyOf(item))) continue
    found.set(keyOf(item), await lockOne(tx, workspaceId, item))
  }
  return found
}

async function lockOne(
  tx: Tx,
  workspaceId: WorkspaceId,
  { kind, subjectId }: BoxItemRow,
): Promise<StockLeft> {
  if (kind === 'container') {
    await tx.$queryRaw`
      select id from container_kind where workspace_id = ${workspaceId}::uuid and id = ${subjectId}::uuid for update`
    const { free } = await requireContainerKind(tx, workspaceId, subjectId)
    return { left: Math.max(0, free), lastOn: null }
  }
  if (kind === 'egg_case') {
    await tx.$queryRaw`
      select id from egg_case where workspace_id = ${workspaceId}::uuid and id = ${subjectId}::uuid for update`
    const row = await requireEggCase(tx, workspaceId, subjectId)
    const lastOn = row.hatches.at(-1)?.on ?? row.receivedOn ?? row.laidOn ?? row.laidFrom ?? null
    return row.endedOn === null ? { left: 1, lastOn } : { left: 0, lastOn: null }
  }
  if (kind === 'culture') {
    await tx.$queryRaw`
      select id from culture where workspace_id = ${workspaceId}::uuid and id = ${subjectId}::uuid for update`
    const jar = await requireCulture(tx, workspaceId, subjectId)
    const lastOn = jar.harvests.at(-1)?.on ?? jar.startedOn
    return jar.endedOn === null ? { left: 1, lastOn } : { left: 0, lastOn: null }
  }
  // Packs come out of the food supply, which is no count on a shelf.
  return { left: Number.POSITIVE_INFINITY, lastOn: null }
}

function linesOf({ item, description, quantity, ...terms }: SoldItem, taken: number): NewSaleLine[] {
  const rest = quantity - taken
  const parts = [taken, rest].map((count) => count * terms.unitPriceMinor)
  const [ownDiscount = 0, restDiscount = 0] = shareOut(terms.discountMinor, parts)
  const own: NewSaleLine[] =
    item && taken > 0
      ? [{ ...terms, ...subjectOf(item, taken), discountMinor: ownDiscount, overrideReason: '' }]
      : []
  if (rest === 0) return own
  const words = { kind: 'other' as const, description: description.slice(0, 120), quantity: rest }
  const told = [notInStock(item, rest)]
  return [...own, { ...terms, ...words, discountMinor: restDiscount, overrideReason: '', told }]
}

function notInStock(item: BoxItemRow | null, count: number): Warning {
  const what = item?.description ?? 'This'
  const message =
    count === 1
      ? `${what} was sold from the box and is not in the stock by the records. Count it.`
      : `${count} of “${what}” were sold from the box and are not in the stock by the records. Count them.`
  return { code: 'more-than-left', message }
}

function subjectOf({ kind, subjectId, items }: BoxItemRow, quantity: number): StockSubject {
  if (kind === 'egg_case') return { kind, eggCase: subjectId }
  if (kind === 'culture') return { kind, culture: subjectId }
  if (kind === 'pack') return { kind, line: subjectId, quantity, items: items ?? 1 }
  return { kind: 'container', containerKind: subjectId, quantity }
}

/** How many of each thing of a box are on receipts. What the records do not know of is on the receipt alone. */
export async function takeSoldCounts(
  tx: Tx,
  workspaceId: WorkspaceId,
  { box, sold }: { box: string; sold: readonly SoldItem[] },
): Promise<void> {
  for (const { item, quantity } of sold.toSorted((a, b) => (a.item?.number ?? 0) - (b.item?.number ?? 0)))
    if (item)
      refuseNone(
        await tx.showBoxItem.updateMany({
          where: { workspaceId, boxId: box, number: item.number },
          data: { sold: { increment: quantity } },
        }),
      )
}

function refuseNone({ count }: { count: number }): void {
  if (count === 0) throw refuseUnknown('thing in this box')
}

export type HomeCount = { item: number; home: number }

/** Keeps what was counted at home, and says what is missing and what is over. */
export async function takeHomeCounts(
  tx: Tx,
  workspaceId: WorkspaceId,
  { box, items, counts }: { box: string; items: readonly BoxItemRow[]; counts: readonly HomeCount[] },
): Promise<SettledItems> {
  for (const { item: number, home } of counts)
    refuseNone(
      await tx.showBoxItem.updateMany({ where: { workspaceId, boxId: box, number }, data: { home } }),
    )
  const counted = new Map(counts.map(({ item, home }) => [item, home]))
  const shown = items.filter(({ isOut, sold }) => !isOut || sold > 0)
  return settleItems(shown.map((item) => ({ ...item, home: counted.get(item.number) ?? item.home })))
}

/** A device is gone: what its receipts have not taken goes into another part. */
export async function takeItemsOver(
  tx: Tx,
  workspaceId: WorkspaceId,
  { box, items, from, to }: { box: string; items: readonly BoxItemRow[]; from: number; to: number },
): Promise<void> {
  let number = items.length
  for (const item of items.filter(
    ({ part, isOut, packed, sold }) => part === from && !isOut && packed > sold,
  )) {
    number += 1
    const row = { workspaceId, boxId: box, number, partNumber: to, packed: item.packed - item.sold }
    await tx.showBoxItem.create({ data: { ...row, ...columnsOf(item) } })
    await tx.showBoxItem.updateMany({
      where: { workspaceId, boxId: box, number: item.number },
      data: { packed: item.sold },
    })
  }
}

function columnsOf({ kind, subjectId, items, description, priceMinor }: BoxItemRow) {
  return {
    ...{ kind, items, description, priceMinor },
    eggCaseId: kind === 'egg_case' ? subjectId : null,
    cultureId: kind === 'culture' ? subjectId : null,
    containerKindId: kind === 'container' ? subjectId : null,
    preySlug: kind === 'pack' ? subjectId : null,
  }
}
