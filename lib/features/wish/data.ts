import { daysBetween, type PlainDate } from '@/lib/domain/calendar/date'
import { type WishOutlook, wishOutlook } from '@/lib/domain/wish/outlook'
import { loadRoomForecast } from '@/lib/features/room-forecast/data'
import { loadSpeciesById } from '@/lib/features/species/data'
import type { WishAnswer } from '@/lib/features/wish/schema'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type WishRow = {
  id: string
  buyerId: string
  buyerName: string
  speciesId: string
  scientificName: string
  sex: 'male' | 'female' | 'unsexed' | null
  moults: number | null
  adult: boolean
  count: number
  by: PlainDate
  version: number
}

/** Wishes that wait, the earliest made first: in this order they are served. One statement. */
export function listWishes(
  tx: Tx,
  workspaceId: WorkspaceId,
  { buyerId, today }: { buyerId?: string; today: PlainDate },
): Promise<WishRow[]> {
  const ofBuyer = buyerId ? Prisma.sql`and w.buyer_id = ${buyerId}::uuid` : Prisma.empty
  return tx.$queryRaw<WishRow[]>`
    select w.id, w.buyer_id as "buyerId", coalesce(n.name, '') as "buyerName", w.species_id as "speciesId",
      s.scientific_name as "scientificName", w.sex::text as sex, w.moults, w.adult, w.count, w.by_on::text as by,
      w.version
    from wish w
    join species s on s.workspace_id = w.workspace_id and s.id = w.species_id
    left join buyer_person n on n.workspace_id = w.workspace_id and n.buyer_id = w.buyer_id
    where w.workspace_id = ${workspaceId}::uuid and w.ended_on is null and w.by_on >= ${today}::date ${ofBuyer}
    order by w.id limit 500`
}

/** Every wish a buyer ever had, and what became of it. */
export function listWishesOfBuyer(
  tx: Tx,
  workspaceId: WorkspaceId,
  buyerId: string,
): Promise<
  (Omit<WishRow, 'buyerId' | 'buyerName' | 'version'> & {
    madeOn: PlainDate
    endedOn: PlainDate | null
    end: string | null
  })[]
> {
  return tx.$queryRaw`
    select w.id, w.species_id as "speciesId", s.scientific_name as "scientificName", w.sex::text as sex, w.moults, w.adult,
      w.count, w.by_on::text as by, w.made_on::text as "madeOn", w.ended_on::text as "endedOn", w."end"::text as "end"
    from wish w join species s on s.workspace_id = w.workspace_id and s.id = w.species_id
    where w.workspace_id = ${workspaceId}::uuid and w.buyer_id = ${buyerId}::uuid
    order by w.id`
}

/** One wish that waits. @throws AppError not-found */
export async function requireWish(tx: Tx, { workspaceId, today }: Workspace, id: string): Promise<WishRow> {
  const wish = (await listWishes(tx, workspaceId, { today })).find((one) => one.id === id)
  if (!wish) throw refuseUnknown('wish')
  return wish
}

export type MatchedWishes = {
  outlooks: Map<string, WishOutlook>
  species: { id: string; scientificName: string }[]
}

/**
 * Whether wishes can be met, from the room forecast: all that wait, the earliest made first, since what those take of the
 * same kind is promised by then.
 */
export async function loadWishOutlooks(
  tx: Tx,
  workspace: Workspace,
  { wishes }: { wishes: readonly WishRow[] },
): Promise<MatchedWishes> {
  const { today } = workspace
  const ahead = wishes.map(({ by }) => daysBetween(today, by))
  if (ahead.length === 0)
    return {
      outlooks: new Map(),
      species: [...(await loadSpeciesById(tx, workspace.workspaceId)).values()],
    }
  const { forecast, ground } = await loadRoomForecast(tx, workspace, { days: 1 + Math.max(...ahead) })
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

/** By id alone: the answer of a repeated call is kept, and must keep nothing of a person. */
export function presentWish(wish: WishRow, outlooks: ReadonlyMap<string, WishOutlook>): WishAnswer {
  const { id, buyerId, speciesId, scientificName, sex, moults, adult, count, by, version } = wish
  return {
    ...{ id, buyer: buyerId, species: speciesId, scientificName, sex, moults, isAdult: adult, count, by },
    ...{ outlook: outlooks.get(id) ?? null, version },
  }
}
