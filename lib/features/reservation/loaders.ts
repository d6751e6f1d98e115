import { daysBetween } from '@/lib/domain/calendar/date'
import { instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { listStages } from '@/lib/domain/instar/stages'
import { isAllowed } from '@/lib/domain/role/permissions'
import { type WishOutlook, wishOutlook } from '@/lib/domain/wish/outlook'
import { listBuyerChoices } from '@/lib/features/buyer/data'
import { listReservations } from '@/lib/features/reservation/data'
import { loadRoomForecast } from '@/lib/features/room-forecast/data'
import { loadSpeciesById } from '@/lib/features/species/data'
import { listWishes, type WishRow } from '@/lib/features/wish/data'
import type { Tx } from '@/lib/platform/db'
import { loadPage } from '@/lib/platform/page'
import type { Actor, Workspace } from '@/lib/platform/workspace'

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
  const { outlooks, species } = await matchWishes(tx, workspace, wishes)
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

type Matched = {
  outlooks: Map<string, WishOutlook>
  species: { id: string; scientificName: string }[]
}

/** Earlier wishes are served first: what they take of the same kind is promised by then. */
async function matchWishes(tx: Tx, workspace: Workspace, wishes: readonly WishRow[]): Promise<Matched> {
  const { today } = workspace
  const ahead = wishes.map(({ by }) => daysBetween(today, by))
  if (ahead.length === 0)
    return {
      outlooks: new Map(),
      species: [...(await loadSpeciesById(tx, workspace.workspaceId)).values()],
    }
  const { forecast, ground } = await loadRoomForecast(tx, workspace, { days: Math.max(1, ...ahead) })
  const outlooks = new Map(
    wishes.map((wish, index) => {
      const promised = wishes
        .slice(0, index)
        .filter((earlier) => isSameKind(earlier, wish))
        .reduce((sum, { count }) => sum + count, 0)
      return [wish.id, wishOutlook(wish, forecast, { day: ahead[index] ?? 0, promised })]
    }),
  )
  // The room was collected with every species there is.
  return { outlooks, species: [...ground.species.values()] }
}

function isSameKind(one: WishRow, other: WishRow): boolean {
  const sexes = one.sex === null || other.sex === null || one.sex === other.sex
  const isAnyStage = (wish: WishRow) => wish.moults === null && !wish.adult
  const stages =
    isAnyStage(one) || isAnyStage(other) || (one.moults === other.moults && one.adult === other.adult)
  return one.speciesId === other.speciesId && sexes && stages
}
