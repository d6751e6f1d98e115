import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import type { WorkspaceId } from '@/lib/platform/workspace'

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
