import { retentionUntil } from '@/lib/domain/buyer/retention'
import { isAllowed } from '@/lib/domain/role/permissions'
import { writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import { listBuyers, presentBuyer, requireBuyer } from '@/lib/features/buyer/data'
import { listOrdersOfBuyer } from '@/lib/features/order/data'
import { listPapersOfBuyer } from '@/lib/features/paper/data'
import { listReservationsOfBuyer } from '@/lib/features/reservation/data'
import { listSalesOfBuyer, presentSale } from '@/lib/features/sale/data'
import { loadTill } from '@/lib/features/till/data'
import { listWishesOfBuyer } from '@/lib/features/wish/data'
import type { Tx } from '@/lib/platform/db'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

export type BuyersQuery = { cursor: string | undefined; search: string | undefined }

/** Everybody who buys here. */
export function loadBuyersPage(slug: string, { cursor, search = '' }: BuyersQuery) {
  return loadPage({ slug, permission: 'buyer:read' }, async ({ tx, workspace, scope }) => {
    const { items, nextCursor } = await listBuyers(tx, workspace.workspaceId, { limit: 50, cursor, search })
    return {
      items: items.map(presentBuyer),
      nextCursor,
      search,
      isFirstPage: cursor === undefined,
      today: workspace.today,
      mayWrite: isAllowed(scope.role, 'buyer:write'),
    }
  })
}
export type BuyersPage = Awaited<ReturnType<typeof loadBuyersPage>>

/** One buyer with what they bought, and what an erasure would do today. */
export function loadBuyerPage(slug: string, id: string) {
  return loadPage({ slug, permission: 'buyer:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today } = workspace
    const buyer = await requireBuyer(tx, workspaceId, requireIdParam(id))
    const sales = await listSalesOfBuyer(tx, workspaceId, { buyerId: buyer.id })
    const { retentionYears } = await loadTill(tx, workspaceId)
    const until = retentionUntil(sales[0]?.on ?? null, retentionYears)
    return {
      buyer: presentBuyer(buyer),
      sales: sales.map(presentSale),
      retentionYears,
      keepUntil: until !== null && until > today ? until : null,
      today,
      mayWrite: isAllowed(scope.role, 'buyer:write'),
    }
  })
}
export type BuyerPage = Awaited<ReturnType<typeof loadBuyerPage>>

/** Everything on record about one person, to be handed to them. */
export function loadBuyerExport(slug: string, id: string) {
  return loadPage({ slug, permission: 'buyer:write' }, ({ tx, workspace }) =>
    loadBuyerRecord(tx, workspace, requireIdParam(id)),
  )
}

/** The same in a transaction that is open: nothing is left out because there is much of it. */
export async function loadBuyerRecord(tx: Tx, workspace: Workspace, id: string) {
  const { workspaceId, name, contact, today } = workspace
  const buyer = await requireBuyer(tx, workspaceId, id)
  const sales = await listSalesOfBuyer(tx, workspaceId, {
    buyerId: buyer.id,
    most: Number.POSITIVE_INFINITY,
  })
  const { retentionYears } = await loadTill(tx, workspaceId)
  const orders = await listOrdersOfBuyer(tx, workspaceId, buyer.id)
  return {
    writtenOn: today,
    keptBy: { name, contact },
    buyer: { ...presentBuyer(buyer), createdAt: buyer.createdAt.toISOString() },
    receiptsKeptUntil: retentionUntil(sales[0]?.on ?? null, retentionYears),
    sales: sales.map((sale) => ({ receipt: writeReceiptNumber(sale), ...presentSale(sale) })),
    orders: orders.map(({ version: _, buyerId: __, ...order }) => order),
    holds: await listReservationsOfBuyer(tx, workspaceId, buyer.id),
    wishes: await listWishesOfBuyer(tx, workspaceId, buyer.id),
    papers: await listPapersOfBuyer(tx, workspaceId, buyer.id),
  }
}
