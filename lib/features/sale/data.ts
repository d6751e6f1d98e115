import type { PlainDate } from '@/lib/domain/calendar/date'
import { balanceOf, type PaymentEntry } from '@/lib/domain/order/balance'
import { sumByRate } from '@/lib/domain/sale/basket'
import type { PaymentKind } from '@/lib/domain/sale/payment'
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
/** What was paid with a sale, and for the order that became it. */
type Paid = {
  own: { kind: PaymentKind; amountMinor: number; givenMinor: number | null }[]
  ordered: (PaymentEntry & { kind: PaymentKind })[]
}
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
  const items = await withPayments(tx, workspaceId, rows.slice(0, limit))
  return { items, nextCursor: rows.length > limit ? (items.at(-1)?.id ?? null) : null }
}

/** One sale. @throws AppError not-found */
export async function requireSale(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<SaleRow> {
  const row = await tx.sale.findUnique({
    where: { workspaceId_id: { workspaceId, id } },
    select: SALE_FIELDS,
  })
  const [sale] = await withPayments(tx, workspaceId, row ? [row] : [])
  if (!sale) throw refuseUnknown('sale')
  return sale
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
  return withPayments(tx, workspaceId, rows)
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

/** One statement, however many sales. */
async function withPayments(tx: Tx, workspaceId: WorkspaceId, rows: readonly Stored[]): Promise<SaleRow[]> {
  if (rows.length === 0) return []
  const paid = await tx.$queryRaw<(Paid & { id: string })[]>`
    select s.id,
      (select coalesce(json_agg(json_build_object('kind', p.kind, 'amountMinor', p.amount_minor,
          'givenMinor', p.given_minor) order by p.number), '[]')
        from sale_payment p where p.workspace_id = s.workspace_id and p.sale_id = s.id) as own,
      (select coalesce(json_agg(json_build_object('kind', y.kind, 'on', y."on", 'amountMinor', y.amount_minor,
          'reverses', y.reverses, 'isWaived', y.waived) order by y.number), '[]')
        from customer_order o join order_payment y on y.workspace_id = o.workspace_id and y.order_id = o.id
        where o.workspace_id = s.workspace_id and o.sale_id = s.id) as ordered
    from sale s where s.workspace_id = ${workspaceId}::uuid and s.id = any(${rows.map(({ id }) => id)}::uuid[])`
  const paidOf = new Map(paid.map((one) => [one.id, one]))
  return rows.map((row) => readSale(row, paidOf.get(row.id) ?? { own: [], ordered: [] }))
}

function readSale(row: Stored, paid: Paid): SaleRow {
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
    ...presentPayments(row, paid, money),
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

/** What was paid with it, or for the order that became it: before it left and after. Nothing said is nothing owed. */
function presentPayments(
  row: Stored,
  { own, ordered }: Paid,
  money: Money,
): Pick<SaleAnswer, 'payments' | 'refunds' | 'owed'> {
  const saidOf = (list: Paid['ordered']) =>
    list.map(({ kind, on, amountMinor }) => ({ kind, on, amount: money(amountMinor) }))
  const worthMinor = row.returns.reduce((sum, { refundMinor }) => sum + refundMinor, 0)
  const moneyMinor = row.returns.reduce((sum, one) => sum + (one.refundKind ? one.refundMinor : 0), 0)
  const { owedMinor } = balanceOf(row.totalMinor, ordered, { worthMinor, moneyMinor })
  return {
    payments: [
      ...own.map(({ kind, amountMinor, givenMinor }) => ({
        ...{ kind, on: toPlainDate(row.on), amount: money(amountMinor) },
        given: givenMinor === null ? null : money(givenMinor),
      })),
      ...saidOf(ordered.filter(({ reverses }) => reverses === null)).map((said) => ({
        ...said,
        given: null,
      })),
    ],
    refunds: saidOf(ordered.filter(({ reverses }) => reverses !== null)),
    owed: ordered.length > 0 ? money(owedMinor) : null,
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
