import { instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { listStages } from '@/lib/domain/instar/stages'
import { isAllowed } from '@/lib/domain/role/permissions'
import type { WishOutlook } from '@/lib/domain/wish/outlook'
import { listBuyerChoices } from '@/lib/features/buyer/data'
import { listReservations } from '@/lib/features/reservation/data'
import { listWishes, loadWishOutlooks, type WishRow } from '@/lib/features/wish/data'
import type { Tx } from '@/lib/platform/db'
import { loadPage } from '@/lib/platform/page'
import type { Actor } from '@/lib/platform/workspace'

export type WaitingWish = WishRow & { stage: string; outlook: WishOutlook | null }

/** Animals held for somebody, and wishes that wait, matched against what the room will hold. */
export function loadReservationsPage(slug: string) {
  return loadPage({ slug, permission: 'reservation:read' }, ({ tx, workspace, scope }) =>
    loadWaiting(tx, { workspace, scope }),
  )
}

/** The same in a transaction that is open. */
export async function loadWaiting(tx: Tx, { workspace, scope }: Actor) {
  const { workspaceId, today } = workspace
  const naming = instarNamingOf(workspace)
  const holds = await listReservations(tx, workspaceId, { today })
  const wishes = await listWishes(tx, workspaceId, { today })
  const { outlooks, species } = await loadWishOutlooks(tx, workspace, { wishes })
  const buyers = await listBuyerChoices(tx, workspaceId)
  return {
    ...{ holds, today },
    wishes: wishes.map(
      (wish): WaitingWish => ({
        ...wish,
        stage: wish.adult ? 'adult' : wish.moults === null ? '' : instarLabel(wish.moults, naming),
        outlook: outlooks.get(wish.id) ?? null,
      }),
    ),
    buyers: buyers.map(({ id, name }) => ({ value: id, label: name })),
    species: species.map(({ id, scientificName }) => ({ value: id, label: scientificName })),
    stages: listStages(naming),
    mayWrite: isAllowed(scope.role, 'reservation:write'),
    maySell: isAllowed(scope.role, 'sale:read'),
  }
}
export type ReservationsPage = Awaited<ReturnType<typeof loadReservationsPage>>
