import type { PlainDate } from '@/lib/domain/calendar/date'
import { sumByRate } from '@/lib/domain/sale/basket'
import { writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import type { SoldFacts } from '@/lib/domain/sale/sold-facts'
import type { SaleAnswer } from '@/lib/features/sale/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import type { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
import type { Warning } from '@/lib/platform/warned'
import type { WorkspaceId } from '@/lib/platform/workspace'

const SALE_FIELDS = {
  id: true,
  series: true,
  receiptNumber: true,
  on: true,
  currency: true,
  totalMinor: true,
  taxIncluded: true,
  certifiedNumber: true,
  note: true,
  buyerId: true,
  createdAt: true,
  seller: { select: { displayName: true } },
  reversal: { select: { on: true, reason: true } },
  payments: { select: { kind: true, amountMinor: true, givenMinor: true }, orderBy: { number: 'asc' } },
  returns: {
    select: { id: true, returnNumber: true, on: true, reason: true, refundMinor: true, refundKind: true },
    orderBy: { returnNumber: 'asc' },
  },
  lines: {
    select: {
      number: true,
      kind: true,
      individualId: true,
      entryId: true,
      clutchId: true,
      eggCaseId: true,
      containerKindId: true,
      males: true,
      females: true,
      unsexed: true,
      quantity: true,
      returned: true,
      description: true,
      facts: true,
      unitPriceMinor: true,
      discountMinor: true,
      priceMinor: true,
      taxBasisPoints: true,
      taxMinor: true,
      overrideReason: true,
      warnings: true,
      individual: { select: { label: true, clutchId: true } },
    },
    orderBy: { number: 'asc' },
  },
} satisfies Prisma.SaleSelect

type Stored = Prisma.SaleGetPayload<{ select: typeof SALE_FIELDS }>
type StoredLine = Stored['lines'][number]

/** What a return has to know of a line besides what is shown. */
export type SoldStock = Pick<
  StoredLine,
  | 'number'
  | 'kind'
  | 'individualId'
  | 'entryId'
  | 'clutchId'
  | 'eggCaseId'
  | 'containerKindId'
  | 'quantity'
  | 'returned'
  | 'taxMinor'
> & { grossMinor: number; label: string | null; facts: SoldFacts | null }

/** A sale with what taking it back needs besides what is shown of it. */
export type SaleRow = SaleAnswer & { seller: string | null; createdAt: Date; stock: SoldStock[] }

export type SalePage = { limit: number; cursor?: string; from?: string; until?: string }

/** A page of sales, the one that arrived last first; the cursor is the id of the last one seen. */
export async function listSales(
  tx: Tx,
  workspaceId: WorkspaceId,
  { limit, cursor, from, until }: SalePage,
): Promise<{ items: SaleRow[]; nextCursor: string | null }> {
  const days = {
    ...(from ? { gte: fromPlainDate(from) } : {}),
    ...(until ? { lte: fromPlainDate(until) } : {}),
  }
  const rows = await tx.sale.findMany({
    where: {
      workspaceId,
      on: days,
      ...(cursor ? { id: { lt: cursor } } : {}),
    },
    select: SALE_FIELDS,
    orderBy: { id: 'desc' },
    take: limit + 1,
  })
  const items = rows.slice(0, limit).map(readSale)
  return { items, nextCursor: rows.length > limit ? (items.at(-1)?.id ?? null) : null }
}

/** One sale. @throws AppError not-found */
export async function requireSale(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<SaleRow> {
  const row = await tx.sale.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: SALE_FIELDS,
  })
  if (!row) throw refuseUnknown('sale')
  return readSale(row)
}

/** The receipt under which each of the animals was sold last, by animal; those not sold are missing. */
export async function loadReceiptNumbers(
  tx: Tx,
  workspaceId: WorkspaceId,
  individualIds: readonly string[],
): Promise<Map<string, string>> {
  const lines = await tx.saleLine.findMany({
    where: { workspaceId, individualId: { in: [...individualIds] }, returned: 0 },
    select: { individualId: true, sale: { select: { series: true, receiptNumber: true } } },
    orderBy: { saleId: 'asc' },
  })
  return new Map(lines.map(({ individualId, sale }) => [individualId ?? '', writeReceiptNumber(sale)]))
}

/** What a buyer bought, newest first; the day of the first is that of the last receipt that names them. */
export async function listSalesOfBuyer(
  tx: Tx,
  workspaceId: WorkspaceId,
  { buyerId, most = 500 }: { buyerId: string; most?: number },
): Promise<SaleRow[]> {
  const rows = await tx.sale.findMany({
    where: { workspaceId, buyerId },
    select: SALE_FIELDS,
    orderBy: [{ on: 'desc' }, { id: 'desc' }],
    ...(most === Infinity ? {} : { take: most }),
  })
  return rows.map(readSale)
}

/** The day of the last receipt that names a buyer; null where none does. */
export async function loadLastSaleDay(
  tx: Tx,
  workspaceId: WorkspaceId,
  buyerId: string,
): Promise<PlainDate | null> {
  const last = await tx.sale.findFirst({
    where: { workspaceId, buyerId },
    select: { on: true },
    orderBy: { on: 'desc' },
  })
  return last && toPlainDate(last.on)
}

function readSale(row: Stored): SaleRow {
  const { currency, reversal, lines } = row
  const money = (amount: number) => ({ amount, currency })
  const stock = lines.map((line) => presentStock(line, row.taxIncluded))
  const rates = sumByRate(
    lines.map((line, index) => ({ ...line, grossMinor: stock[index]?.grossMinor ?? 0 })),
  )
  return {
    id: row.id,
    series: row.series,
    receiptNumber: row.receiptNumber,
    on: toPlainDate(row.on),
    total: money(row.totalMinor),
    taxIncluded: row.taxIncluded,
    certifiedNumber: row.certifiedNumber,
    note: row.note,
    buyer: row.buyerId,
    lines: lines.map((line) => readLine(line, money)),
    taxes: rates.map(({ taxBasisPoints, netMinor, taxMinor, grossMinor }) => ({
      percent: taxBasisPoints / 100,
      net: money(netMinor),
      tax: money(taxMinor),
      gross: money(grossMinor),
    })),
    payments: row.payments.map(({ kind, amountMinor, givenMinor }) => ({
      kind,
      amount: money(amountMinor),
      given: givenMinor === null ? null : money(givenMinor),
    })),
    returns: row.returns.map(({ id, returnNumber, on, reason, refundMinor, refundKind }) => ({
      ...{ id, returnNumber, reason, refundKind },
      on: toPlainDate(on),
      refund: money(refundMinor),
    })),
    reversal: reversal && { on: toPlainDate(reversal.on), reason: reversal.reason },
    seller: row.seller?.displayName ?? null,
    createdAt: row.createdAt,
    stock,
  }
}

type Money = (amount: number) => { amount: number; currency: string }

function readLine(line: StoredLine, money: Money): SaleAnswer['lines'][number] {
  const { number, kind, individualId, individual, description, quantity, returned, overrideReason } = line
  const { males, females, unsexed } = line
  return {
    ...{ number, kind, description, quantity, returned, overrideReason },
    individual: individualId,
    label: individual?.label ?? null,
    lot: kind === 'lot' ? { males, females, unsexed } : null,
    unitPrice: money(line.unitPriceMinor),
    discount: money(line.discountMinor),
    price: money(line.priceMinor),
    taxPercent: line.taxBasisPoints / 100,
    tax: money(line.taxMinor),
    // Written by this feature alone, as the warnings of the check.
    warnings: line.warnings as Warning[],
  }
}

function presentStock(line: StoredLine, taxIncluded: boolean): SoldStock {
  const { number, kind, individualId, entryId, eggCaseId, containerKindId, individual } = line
  const { quantity, returned, taxMinor, priceMinor } = line
  return {
    ...{ number, kind, individualId, entryId, eggCaseId, containerKindId, quantity, returned, taxMinor },
    clutchId: line.clutchId ?? individual?.clutchId ?? null,
    grossMinor: taxIncluded ? priceMinor : priceMinor + taxMinor,
    label: individual?.label ?? null,
    // Written by the one way in which anything is sold.
    facts: line.facts as SoldFacts | null,
  }
}

/** What the API shows of a sale. */
export function presentSale({ seller: _, createdAt: __, stock: ___, ...sale }: SaleRow): SaleAnswer {
  return sale
}
