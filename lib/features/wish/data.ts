import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
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

/** Wishes that wait, the earliest made first: in this order they are served. */
export async function listWishes(
  tx: Tx,
  workspaceId: WorkspaceId,
  { buyerId, today }: { buyerId?: string; today: PlainDate },
): Promise<WishRow[]> {
  const rows = await tx.wish.findMany({
    where: {
      workspaceId,
      endedOn: null,
      byOn: { gte: fromPlainDate(today) },
      ...(buyerId ? { buyerId } : {}),
    },
    select: {
      ...{ id: true, buyerId: true, speciesId: true, sex: true, moults: true, adult: true, count: true },
      ...{ byOn: true, version: true },
      buyer: { select: { person: { select: { name: true } } } },
      species: { select: { scientificName: true } },
    },
    orderBy: { id: 'asc' },
    take: 500,
  })
  return rows.map(({ buyer, species, byOn, ...wish }) => ({
    ...wish,
    by: toPlainDate(byOn),
    buyerName: buyer.person?.name ?? '',
    scientificName: species.scientificName,
  }))
}
