import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** How many hang by what was last said at the bench on a day, on whatever device; nobody where nothing was. */
export async function countHanging(
  tx: Tx,
  workspaceId: WorkspaceId,
  { clutchId, on }: { clutchId: string; on: PlainDate },
): Promise<number> {
  const said = await tx.clutchObservation.findFirst({
    where: { workspaceId, ...saidAtBench({ clutchId, on }) },
    orderBy: { id: 'desc' },
    select: { hanging: true },
  })
  return said?.hanging ?? 0
}

const saidAtBench = ({ clutchId, on }: { clutchId: string; on: PlainDate }) => ({
  clutchId,
  on: fromPlainDate(on),
  moulted: null,
  archivedAt: null,
})

export type HangingSeen = {
  clutchId: string
  on: PlainDate
  moults: number
  count: number
  seenBy: string | null
}

/**
 * How many hang for their next moult at the end of a run at the bench. There is one count for a clutch and a day, which
 * every device begins with: whoever counts again has counted better, and none is as if nobody had.
 */
export async function openHanging(tx: Tx, workspaceId: WorkspaceId, seen: HangingSeen): Promise<void> {
  const { clutchId, seenBy, moults, count } = seen
  const on = fromPlainDate(seen.on)
  await tx.clutchObservation.updateMany({
    where: { workspaceId, ...saidAtBench(seen) },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (count === 0) return
  await tx.clutchObservation.create({
    data: { workspaceId, clutchId, on, number: moults + 1, hanging: count, seenBy },
  })
}
