import { inLedgerOrder } from '@/lib/domain/individual/whereabouts'
import { refundOf } from '@/lib/domain/sale/basket'
import { openStays, requirePlace } from '@/lib/features/housing/data'
import { lockIndividuals } from '@/lib/features/individual/data'
import { requireSale, type SaleRow, type SoldStock } from '@/lib/features/sale/data'
import type { Reversal, SaleReturnInput } from '@/lib/features/sale-return/schema'
import { takeBackStock } from '@/lib/features/stock-line/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor } from '@/lib/platform/workspace'

/** A line of which so many come back. */
type Back = { line: SoldStock; quantity: number; refundMinor: number; taxMinor: number }
export type SaleReturned = { id: string; sale: string; returnNumber: number; refundMinor: number }

/**
 * Takes a whole sale back. Its number stays used, its animals are here again, each in a container.
 * @throws AppError already-reversed the second time, or when some of it came back before
 */
export async function reverseSale(tx: Tx, actor: Actor, reversal: Reversal): Promise<Warned<{ id: string }>> {
  const { workspaceId } = actor.workspace
  const sale = await requireSale(tx, workspaceId, reversal.sale)
  await refuseWrongDay(actor, sale, reversal.on)
  await lockIndividuals(tx, workspaceId, individualsOf(sale.stock))
  if (sale.reversal === null && sale.returns.length > 0)
    throw new AppError('already-reversed', 'Some of it came back before: take the rest back line by line.')
  // Whoever comes second meets the key of the first one's row.
  await tx.saleReversal.create({
    data: { workspaceId, saleId: sale.id, on: fromPlainDate(reversal.on), reason: reversal.reason },
  })
  const back = sale.stock.map((line) => ({
    line,
    quantity: line.quantity,
    ...refundOf({ ...line, returned: 0 }, line.quantity),
  }))
  const { warnings } = await takeBack(tx, actor, { sale, back, wish: reversal })
  return { value: { id: sale.id }, warnings }
}

/** Takes some of a sale back. @throws AppError more-than-left; invalid at the line for what is not on the receipt */
export async function createSaleReturn(
  tx: Tx,
  actor: Actor,
  wish: SaleReturnInput,
): Promise<Warned<SaleReturned>> {
  const { workspaceId } = actor.workspace
  const known = await requireSale(tx, workspaceId, wish.sale)
  await refuseWrongDay(actor, known, wish.on)
  const animals = individualsOf(known.stock)
  if (animals.length > 0) await lockIndividuals(tx, workspaceId, animals)
  const sale = await requireSale(tx, workspaceId, wish.sale)
  const back = wish.lines.flatMap(({ number, quantity }, index) => {
    const line = sale.stock.find((candidate) => candidate.number === number)
    if (!line) throw refuseField(`lines.${index}.number`, 'This line is not on the receipt.')
    if (quantity > line.quantity - line.returned)
      throw new AppError(
        'more-than-left',
        `Only ${line.quantity - line.returned} of this line can come back.`,
        {
          fields: [{ path: `lines.${index}.quantity`, message: `At most ${line.quantity - line.returned}.` }],
        },
      )
    return quantity === 0 ? [] : [{ line, quantity, ...refundOf(line, quantity) }]
  })
  if (back.length === 0) throw refuseField('lines.0.quantity', 'Say how many came back.')
  return takeBack(tx, actor, { sale, back, wish })
}

async function refuseWrongDay({ workspace }: Actor, sale: SaleRow, on: string): Promise<void> {
  refuseFuture('on', on, workspace.today)
  if (on < sale.on) throw refuseField('on', 'This day is before the sale.')
}

function individualsOf(lines: readonly SoldStock[]): string[] {
  return lines.flatMap(({ individualId }) => individualId ?? [])
}

type TakingBack = { sale: SaleRow; back: Back[]; wish: Omit<Reversal, 'sale'> }

async function takeBack(
  tx: Tx,
  actor: Actor,
  { sale, back, wish }: TakingBack,
): Promise<Warned<SaleReturned>> {
  const { scope, workspace } = actor
  const { workspaceId } = workspace
  const restocked = new Map<number, boolean>()
  const warnings = await bringHome(tx, actor, { back, wish })
  // Whoever is here again may be chosen for another order.
  await tx.orderAnimal.updateMany({
    where: {
      workspaceId,
      releasedOn: null,
      individualId: { in: individualsOf(back.map(({ line }) => line)) },
    },
    data: { releasedOn: fromPlainDate(workspace.today) },
  })
  const eggCases = back.flatMap(({ line }) => line.eggCaseId ?? [])
  await tx.orderStockLine.updateMany({
    where: { workspaceId, removedOn: null, eggCaseId: { in: eggCases } },
    data: { removedOn: fromPlainDate(workspace.today) },
  })
  for (const { line, quantity } of back.toSorted((a, b) => a.line.number - b.line.number)) {
    const returned = { ...line, quantity }
    const isBack = line.kind === 'animal' || (await takeBackStock(tx, actor, { line: returned, ...wish }))
    restocked.set(line.number, isBack)
  }
  const refundMinor = back.reduce((sum, line) => sum + line.refundMinor, 0)
  const made = await tx.saleReturn.create({
    data: {
      workspaceId,
      saleId: sale.id,
      returnNumber: await takeNumbers(tx, workspaceId, { name: 'return', count: 1 }),
      on: fromPlainDate(wish.on),
      reason: wish.reason,
      refundKind: wish.refundKind ?? null,
      refundMinor,
      takenBy: scope.personId,
    },
    select: { id: true, returnNumber: true },
  })
  await tx.saleReturnLine.createMany({
    data: back.map(({ line, ...part }) => ({
      workspaceId,
      returnId: made.id,
      saleId: sale.id,
      lineNumber: line.number,
      restocked: restocked.get(line.number) ?? false,
      ...part,
    })),
  })
  const value = { ...made, sale: sale.id, refundMinor }
  return { value, warnings: [...warnings, ...warnOfFood(back)] }
}

function warnOfFood(back: readonly Back[]): Warning[] {
  const isFood = back.some(({ line }) => line.kind === 'culture' || line.kind === 'pack')
  if (!isFood) return []
  const message = 'Live food that was away may carry mites: it is not counted onto the shelf again.'
  return [{ code: 'not-restocked', message }]
}

/** The animals among them are here again, each in a container of its own. */
async function bringHome(
  tx: Tx,
  { scope, workspace }: Actor,
  { back, wish }: Pick<TakingBack, 'back' | 'wish'>,
): Promise<Warning[]> {
  const { workspaceId } = workspace
  const animals = back.flatMap(({ line }) =>
    line.individualId && line.entryId
      ? [{ id: line.individualId, entryId: line.entryId, clutchId: line.clutchId }]
      : [],
  )
  if (animals.length === 0) return []
  const { containerKind, zone, on, reason } = wish
  if (!containerKind) throw refuseField('containerKind', 'Choose what the animals go into.')
  if (!zone) throw refuseField('zone', 'Choose where the animals go.')
  const place = await requirePlace(tx, workspaceId, { containerKind, zone, animals: animals.length })
  await tx.headCountEntry.createMany({
    data: inLedgerOrder(animals).map(({ id, entryId, clutchId }) => ({
      workspaceId,
      clutchId,
      individualId: id,
      from: 'sold' as const,
      to: 'single' as const,
      count: 1,
      on: fromPlainDate(on),
      note: reason,
      reverses: entryId,
      recordedBy: scope.personId,
    })),
  })
  await openStays(tx, workspaceId, { individualIds: animals.map(({ id }) => id), place, on })
  return place.warnings
}
