import type { PlainDate } from '@/lib/domain/calendar/date'
import type { SaleAnswer } from '@/lib/features/sale/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import type { Prisma } from '@/lib/platform/generated/prisma/client'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
import type { Warning } from '@/lib/platform/warned'
import type { WorkspaceId } from '@/lib/platform/workspace'

const SALE_FIELDS = {
  id: true,
  receiptNumber: true,
  on: true,
  currency: true,
  totalMinor: true,
  note: true,
  buyerId: true,
  createdAt: true,
  seller: { select: { displayName: true } },
  reversal: { select: { on: true, reason: true } },
  lines: {
    select: {
      individualId: true,
      entryId: true,
      description: true,
      priceMinor: true,
      overrideReason: true,
      warnings: true,
      individual: { select: { label: true, clutchId: true } },
    },
    orderBy: { number: 'asc' },
  },
} satisfies Prisma.SaleSelect

type Stored = Prisma.SaleGetPayload<{ select: typeof SALE_FIELDS }>

/** A sale with what its reversal needs besides what is shown of it. */
export type SaleRow = SaleAnswer & {
  seller: string | null
  createdAt: Date
  entries: { id: string; individualId: string; clutchId: string | null }[]
}

export type SalePage = { limit: number; cursor?: string; from?: string; until?: string }

/** A page of sales, newest receipt first; the cursor is the number of the last one seen. */
export async function listSales(
  tx: Tx,
  workspaceId: WorkspaceId,
  { limit, cursor, from, until }: SalePage,
): Promise<{ items: SaleRow[]; nextCursor: string | null }> {
  const before = Number(cursor)
  const days = {
    ...(from ? { gte: fromPlainDate(from) } : {}),
    ...(until ? { lte: fromPlainDate(until) } : {}),
  }
  const rows = await tx.sale.findMany({
    where: {
      workspaceId,
      on: days,
      ...(Number.isInteger(before) && before > 0 ? { receiptNumber: { lt: before } } : {}),
    },
    select: SALE_FIELDS,
    orderBy: { receiptNumber: 'desc' },
    take: limit + 1,
  })
  const items = rows.slice(0, limit).map(readSale)
  return { items, nextCursor: rows.length > limit ? String(items.at(-1)?.receiptNumber) : null }
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
): Promise<Map<string, number>> {
  const lines = await tx.saleLine.findMany({
    where: { workspaceId, individualId: { in: [...individualIds] }, sale: { workspaceId, reversal: null } },
    select: { individualId: true, sale: { select: { receiptNumber: true } } },
    orderBy: { saleId: 'asc' },
  })
  return new Map(lines.map(({ individualId, sale }) => [individualId, sale.receiptNumber]))
}

/** What a buyer bought, newest first; the day of the first is that of the last receipt that names them. */
export async function listSalesOfBuyer(
  tx: Tx,
  workspaceId: WorkspaceId,
  buyerId: string,
): Promise<SaleRow[]> {
  const rows = await tx.sale.findMany({
    where: { workspaceId, buyerId },
    select: SALE_FIELDS,
    orderBy: [{ on: 'desc' }, { receiptNumber: 'desc' }],
    take: 500,
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
  const { id, receiptNumber, currency, totalMinor, note, createdAt, reversal, lines } = row
  const money = (amount: number) => ({ amount, currency })
  return {
    id,
    receiptNumber,
    on: toPlainDate(row.on),
    total: money(totalMinor),
    note,
    buyer: row.buyerId,
    lines: lines.map((line) => ({
      individual: line.individualId,
      label: line.individual.label,
      description: line.description,
      price: money(line.priceMinor),
      overrideReason: line.overrideReason,
      // Written by this feature alone, as the warnings of the check.
      warnings: line.warnings as Warning[],
    })),
    reversal: reversal && { on: toPlainDate(reversal.on), reason: reversal.reason },
    seller: row.seller?.displayName ?? null,
    createdAt,
    entries: lines.map(({ entryId, individualId, individual }) => ({
      id: entryId,
      individualId,
      clutchId: individual.clutchId,
    })),
  }
}

/** What the API shows of a sale. */
export function presentSale(sale: SaleRow): SaleAnswer {
  const { id, receiptNumber, on, total, note, buyer, lines, reversal } = sale
  return { id, receiptNumber, on, total, note, buyer, lines, reversal }
}
