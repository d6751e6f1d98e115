import { retentionUntil } from '@/lib/domain/buyer/retention'
import { isAllowed } from '@/lib/domain/role/permissions'
import { listBuyers, presentBuyer, requireBuyer } from '@/lib/features/buyer/data'
import { listReservations } from '@/lib/features/reservation/data'
import { listSalesOfBuyer, presentSale } from '@/lib/features/sale/data'
import { loadTill } from '@/lib/features/till/data'
import { listWishes } from '@/lib/features/wish/data'
import { loadPage, requireIdParam } from '@/lib/platform/page'

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
    const sales = await listSalesOfBuyer(tx, workspaceId, buyer.id)
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
  return loadPage({ slug, permission: 'buyer:write' }, async ({ tx, workspace }) => {
    const { workspaceId, name, contact, today } = workspace
    const buyer = await requireBuyer(tx, workspaceId, requireIdParam(id))
    const sales = await listSalesOfBuyer(tx, workspaceId, buyer.id)
    return {
      writtenOn: today,
      keptBy: { name, contact },
      buyer: { ...presentBuyer(buyer), createdAt: buyer.createdAt.toISOString() },
      sales: sales.map(presentSale),
      held: await listReservations(tx, workspaceId, { today, buyerId: buyer.id }),
      wishes: await listWishes(tx, workspaceId, { today, buyerId: buyer.id }),
    }
  })
}
