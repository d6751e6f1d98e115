import { instarNamingOf } from '@/lib/domain/instar/naming'
import {
  balanceOf,
  type CameBack,
  type OrderBalance,
  type OrderTerms,
  totalOfOrder,
} from '@/lib/domain/order/balance'
import { describeLine } from '@/lib/domain/order/description'
import { type OrderFacts, orderState } from '@/lib/domain/order/state'
import type { PaymentKind } from '@/lib/domain/sale/payment'
import type { OrderAnswer } from '@/lib/features/order/schema'
import type { OrderedStockKind } from '@/lib/features/order-stock/schema'
import { pageOf } from '@/lib/platform/api/list'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { Warning } from '@/lib/platform/warned'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type ArrivedState = 'alive' | 'hurt' | 'dead'
export type ChosenAnimal = { id: string; label: string; arrived: ArrivedState | null }

export type OrderLineRow = {
  number: number
  speciesId: string
  scientificName: string
  sex: 'male' | 'female' | 'any'
  takes: 'nymph' | 'adult' | 'either'
  fromMoults: number
  untilMoults: number | null
  count: number
  priceMinor: number
  chosen: ChosenAnimal[]
}

/** Something of the stock that goes with it. */
export type OrderStockRow = {
  number: number
  kind: OrderedStockKind
  /** of the egg case, the jar, the kind of container or the line of food; empty for something in words */
  subjectId: string
  quantity: number
  items: number | null
  description: string
  priceMinor: number
}

/** A payment, or money that went back. */
export type OrderPaymentRow = {
  number: number
  kind: PaymentKind
  on: string
  amountMinor: number
  returnedMinor: number
  reverses: number | null
  isWaived: boolean
  note: string
}

/** An order without what is known of the person. Days are plain dates, instants RFC 3339. */
export type OrderRow = {
  id: string
  number: number
  version: number
  way: 'sent' | 'collected'
  orderedOn: string
  notBefore: string | null
  isForBeginner: boolean
  buyerId: string | null
  country: string
  area: string
  transitDays: number
  isDepot: boolean
  awayOn: string[]
  claimHours: number
  language: string
  paidOn: string | null
  note: string
  leftOn: string | null
  carrier: string
  saleId: string | null
  receiptNumber: number | null
  warnings: Warning[] | null
  arrivedAt: string | null
  arrivedOn: string | null
  reportedAt: string | null
  photographs: number
  arrivalNote: string
  claimEnd: 'nothing' | 'refund' | 'replacement' | null
  claimEndOn: string | null
  claimNote: string
  cancelledOn: string | null
  cancelReason: string
  lines: OrderLineRow[]
  stock: OrderStockRow[]
  payments: OrderPaymentRow[]
  /** of its receipt, and of what came back of it; null before it has left */
  sold: (CameBack & { totalMinor: number }) | null
  /** how prices are meant and taxed today */
  terms: OrderTerms
}

const COLUMNS = Prisma.sql`
  o.id, o.number, o.version, o.way::text, o.ordered_on::text as "orderedOn", o.not_before::text as "notBefore",
  o.beginner as "isForBeginner", o.buyer_id as "buyerId", o.country, o.area, o.transit_days as "transitDays",
  o.depot as "isDepot", o.away_on::text[] as "awayOn", o.claim_hours as "claimHours", o.language,
  o.paid_on::text as "paidOn", o.note, o.left_on::text as "leftOn", o.carrier, o.sale_id as "saleId",
  s.receipt_number as "receiptNumber", o.warnings, to_json(o.arrived_at)#>>'{}' as "arrivedAt",
  (o.arrived_at at time zone w.time_zone)::date::text as "arrivedOn", to_json(o.reported_at)#>>'{}' as "reportedAt",
  o.photographs, o.arrival_note as "arrivalNote", o.claim_end::text as "claimEnd",
  o.claim_end_on::text as "claimEndOn", o.claim_note as "claimNote", o.cancelled_on::text as "cancelledOn",
  o.cancel_reason as "cancelReason",
  (select coalesce(json_agg(json_build_object('number', l.number, 'speciesId', l.species_id,
      'scientificName', p.scientific_name, 'sex', l.sex, 'takes', l.takes, 'fromMoults', l.from_moults,
      'untilMoults', l.until_moults, 'count', l.count, 'priceMinor', l.price_minor,
      'chosen', (select coalesce(json_agg(json_build_object('id', a.individual_id, 'label', i.label,
          'arrived', a.arrived) order by a.id), '[]')
        from order_animal a join individual i on i.workspace_id = a.workspace_id and i.id = a.individual_id
        where a.workspace_id = l.workspace_id and a.order_id = l.order_id and a.line_number = l.number
          and a.released_on is null)) order by l.number), '[]')
    from order_line l join species p on p.workspace_id = l.workspace_id and p.id = l.species_id
    where l.workspace_id = o.workspace_id and l.order_id = o.id) as lines,
  (select coalesce(json_agg(json_build_object('number', k.number, 'kind', k.kind,
      'subjectId', coalesce(k.egg_case_id::text, k.culture_id::text, k.container_kind_id::text, k.prey_slug, ''),
      'quantity', k.quantity, 'items', k.items, 'description', k.description, 'priceMinor', k.price_minor)
      order by k.number), '[]')
    from order_stock_line k
    where k.workspace_id = o.workspace_id and k.order_id = o.id and k.removed_on is null) as stock,
  (select coalesce(json_agg(json_build_object('number', y.number, 'kind', y.kind, 'on', y."on",
      'amountMinor', y.amount_minor, 'returnedMinor', y.returned_minor, 'reverses', y.reverses, 'isWaived', y.waived,
      'note', y.note) order by y.number), '[]')
    from order_payment y where y.workspace_id = o.workspace_id and y.order_id = o.id) as payments,
  (select json_build_object('totalMinor', s.total_minor, 'worthMinor', coalesce(sum(b.refund_minor), 0),
      'moneyMinor', coalesce(sum(b.refund_minor) filter (where b.refund_kind is not null), 0))
    from sale_return b where b.workspace_id = s.workspace_id and b.sale_id = s.id having s.id is not null) as sold,
  json_build_object(
    'pricesIncludeTax', coalesce((select t.prices_include_tax from till t where t.workspace_id = o.workspace_id), true),
    'rates', (select coalesce(json_agg(json_build_object('basisPoints', r.basis_points, 'appliesTo', r.applies_to)
        order by r.basis_points desc, r.name), '[]')
      from tax_rate r where r.workspace_id = o.workspace_id and r.archived_at is null)) as terms`

const selectOrders = (tx: Tx, workspaceId: WorkspaceId, rest: Prisma.Sql) =>
  tx.$queryRaw<OrderRow[]>`
    select ${COLUMNS} from customer_order o
    join workspace w on w.workspace_id = o.workspace_id
    left join sale s on s.workspace_id = o.workspace_id and s.id = o.sale_id
    where o.workspace_id = ${workspaceId}::uuid ${rest}`

export type OrderFilter = 'open' | 'left' | 'cancelled'

const CONDITIONS: Record<OrderFilter, Prisma.Sql> = {
  open: Prisma.sql`and o.left_on is null and o.cancelled_on is null`,
  left: Prisma.sql`and o.left_on is not null`,
  cancelled: Prisma.sql`and o.cancelled_on is not null`,
}

export type OrderPage = { limit: number; cursor?: string; state?: OrderFilter }

/** A page of orders, newest first. */
export async function listOrders(
  tx: Tx,
  workspaceId: WorkspaceId,
  { limit, cursor, state }: OrderPage,
): Promise<{ items: OrderRow[]; nextCursor: string | null }> {
  const before = cursor ? Prisma.sql`and o.id < ${cursor}::uuid` : Prisma.empty
  const condition = state ? CONDITIONS[state] : Prisma.empty
  const rows = await selectOrders(
    tx,
    workspaceId,
    Prisma.sql`${condition} ${before} order by o.id desc limit ${limit + 1}`,
  )
  return pageOf(rows, limit, (row) => row)
}

/** Every order of a buyer, newest first, with where it went as long as that is kept. */
export async function listOrdersOfBuyer(
  tx: Tx,
  workspaceId: WorkspaceId,
  buyerId: string,
): Promise<(OrderRow & { recipient: Recipient | null })[]> {
  const rows = await selectOrders(
    tx,
    workspaceId,
    Prisma.sql`and o.buyer_id = ${buyerId}::uuid order by o.id desc`,
  )
  const kept = await tx.orderAddress.findMany({
    where: { workspaceId, orderId: { in: rows.map(({ id }) => id) } },
    select: { orderId: true, name: true, address: true, phone: true },
  })
  const recipients = new Map(kept.map(({ orderId, ...recipient }) => [orderId, recipient]))
  return rows.map((row) => ({ ...row, recipient: recipients.get(row.id) ?? null }))
}

/** One order. @throws AppError not-found */
export async function requireOrder(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<OrderRow> {
  const [row] = await selectOrders(tx, workspaceId, Prisma.sql`and o.id = ${id}::uuid`)
  if (!row) throw refuseUnknown('order')
  return row
}

/** The same with its row locked until the end of the transaction. @throws AppError not-found */
export async function lockOrder(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<OrderRow> {
  await tx.$queryRaw`
    select id from customer_order where workspace_id = ${workspaceId}::uuid and id = ${id}::uuid for update`
  return requireOrder(tx, workspaceId, id)
}

export type Recipient = { name: string; address: string; phone: string }

/** Where it goes; empty once it is needed no longer. */
export async function loadRecipient(tx: Tx, workspaceId: WorkspaceId, orderId: string): Promise<Recipient> {
  const found = await tx.orderAddress.findUnique({
    where: { workspaceId_orderId: { workspaceId, orderId } },
    select: { name: true, address: true, phone: true },
  })
  return found ?? { name: '', address: '', phone: '' }
}

/** The names under which orders go, by order; those that were forgotten are missing. */
export async function loadRecipientNames(
  tx: Tx,
  workspaceId: WorkspaceId,
  orderIds: readonly string[],
): Promise<Map<string, string>> {
  const rows = await tx.orderAddress.findMany({
    where: { workspaceId, orderId: { in: [...orderIds] }, name: { not: '' } },
    select: { orderId: true, name: true },
  })
  return new Map(rows.map(({ orderId, name }) => [orderId, name]))
}

/** Which of these animals are chosen for an order that is open, by animal. */
export async function loadOrdersOfAnimals(
  tx: Tx,
  workspaceId: WorkspaceId,
  individualIds: readonly string[],
): Promise<Map<string, number>> {
  const rows = await tx.orderAnimal.findMany({
    where: {
      workspaceId,
      individualId: { in: [...individualIds] },
      releasedOn: null,
      line: { workspaceId, order: { workspaceId, leftOn: null, cancelledOn: null } },
    },
    select: { individualId: true, line: { select: { order: { select: { number: true } } } } },
  })
  return new Map(rows.map(({ individualId, line }) => [individualId, line.order.number]))
}

/**
 * Animals of some species that are here, in no order, in no show box and held for nobody, newest first, and as many as an order needs several
 * times over.
 */
export async function listFreeAnimals(
  tx: Tx,
  workspaceId: WorkspaceId,
  { speciesIds, limit }: { speciesIds: readonly string[]; limit: number },
): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    select i.id from individual i
    where i.workspace_id = ${workspaceId}::uuid and i.whereabouts = 'single'
      and i.species_id = any(${[...speciesIds]}::uuid[])
      and not exists (select from order_animal a where a.workspace_id = i.workspace_id and a.individual_id = i.id
        and a.released_on is null)
      and not exists (select from reservation r where r.workspace_id = i.workspace_id and r.individual_id = i.id
        and r.ended_on is null)
      and not exists (select from show_box_animal b where b.workspace_id = i.workspace_id and b.individual_id = i.id
        and b."end" is null)
    order by i.id desc limit ${limit}`
  return rows.map(({ id }) => id)
}

export function factsOfOrder(row: OrderRow): OrderFacts {
  const { way, leftOn, arrivedOn, cancelledOn, paidOn, claimEnd, lines } = row
  const lost = lines.flatMap(({ chosen }) => chosen).filter(({ arrived }) => arrived === 'dead').length
  return { way, leftOn, arrivedOn, cancelledOn, paidOn, claimEnd, lost }
}

/** What the API shows of an order: nothing of the person. */
export function presentOrder(row: OrderRow, workspace: Workspace): OrderAnswer {
  const { id, number, version, way, orderedOn, paidOn, leftOn, arrivedOn, cancelledOn } = row
  const { country, area, transitDays, note } = row
  const naming = instarNamingOf(workspace)
  const money = (amount: number) => ({ amount, currency: workspace.currency })
  const { dueMinor, owedMinor } = balanceOfOrder(row)
  return {
    ...{ id, number, version, way, orderedOn, paidOn, leftOn, arrivedOn, cancelledOn },
    ...{ country, area, transitDays, note },
    state: orderState(factsOfOrder(row)),
    sale: row.saleId,
    lines: row.lines.map((line) => ({
      number: line.number,
      words: describeLine(line, naming),
      species: line.speciesId,
      sex: line.sex,
      count: line.count,
      price: money(line.priceMinor),
      individuals: line.chosen,
    })),
    stock: row.stock.map(({ number, kind, description, quantity, items, priceMinor }) => ({
      ...{ number, kind, description, quantity, items },
      price: money(priceMinor),
    })),
    payments: row.payments.map(
      ({ number, kind, on, amountMinor, returnedMinor, reverses, isWaived, note: said }) => ({
        ...{ number, kind, on, reverses, isWaived, note: said },
        amount: money(amountMinor),
        returned: money(returnedMinor),
      }),
    ),
    total: money(dueMinor),
    owed: money(owedMinor),
  }
}

/** What is paid and owed: by its receipt where it has left, by its lines before. One that was taken back is due nothing. */
export function balanceOfOrder(row: OrderRow): OrderBalance {
  if (row.cancelledOn !== null) return balanceOf(0, row.payments)
  if (row.sold) return balanceOf(row.sold.totalMinor, row.payments, row.sold)
  const animals = row.lines.map(({ count, priceMinor }) => ({
    ...{ kind: 'animal', quantity: count, unitPriceMinor: priceMinor },
  }))
  const stock = row.stock.map(({ kind, quantity, priceMinor }) => ({
    ...{ kind, quantity, unitPriceMinor: priceMinor },
  }))
  return balanceOf(totalOfOrder([...animals, ...stock], row.terms), row.payments)
}

/** An order that is still here, locked. @throws AppError already-recorded, stale */
export async function lockOpenOrder(
  tx: Tx,
  workspaceId: WorkspaceId,
  { order: id, version }: { order: string; version?: number },
): Promise<OrderRow> {
  const order = await lockOrder(tx, workspaceId, id)
  if (order.leftOn !== null || order.cancelledOn !== null)
    throw new AppError('already-recorded', 'This order has already left or been taken back.')
  refuseStaleOrder(order, version)
  return order
}

/** @throws AppError stale where somebody else was faster */
export function refuseStaleOrder(order: OrderRow, version: number | undefined): void {
  if (version === undefined || version === order.version) return
  throw new AppError('stale', 'Somebody else changed this order meanwhile.', {
    present: { version: order.version },
  })
}

type Change = Parameters<Tx['customerOrder']['updateMany']>[0]['data']

/** Changes a locked order and counts its version on. @throws AppError not-found */
export async function takeOrderOn(
  tx: Tx,
  workspaceId: WorkspaceId,
  { id, data }: { id: string; data: Change },
): Promise<void> {
  const changed = await tx.customerOrder.updateMany({
    where: { workspaceId, id },
    data: { ...data, version: { increment: 1 } },
  })
  if (changed.count === 0) throw refuseUnknown('order')
}

/** Nothing is kept of where it goes. @throws AppError not-found */
export async function endAddress(tx: Tx, workspaceId: WorkspaceId, orderId: string): Promise<void> {
  const emptied = await tx.orderAddress.updateMany({
    where: { workspaceId, orderId },
    data: { name: '', address: '', phone: '' },
  })
  if (emptied.count === 0) throw refuseUnknown('order')
}
