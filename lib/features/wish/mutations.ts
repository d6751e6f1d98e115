import { addDays } from '@/lib/domain/calendar/date'
import { moultsOfInstar } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { requireOpenBuyer } from '@/lib/features/buyer/data'
import { requireSpecies } from '@/lib/features/species/data'
import type { CreateWish, EndWish } from '@/lib/features/wish/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Workspace } from '@/lib/platform/workspace'

/** Further ahead than this no forecast of the room reaches. */
const WISHED_AT_MOST_DAYS = 360

/** Somebody waits for so many of a kind by a day. */
export async function createWish(tx: Tx, workspace: Workspace, wish: CreateWish): Promise<{ id: string }> {
  const { workspaceId, today } = workspace
  if (wish.by < today) throw refuseField('by', 'This day has passed.')
  if (wish.by > addDays(today, WISHED_AT_MOST_DAYS))
    throw refuseField('by', 'This is more than a year ahead.')
  await requireOpenBuyer(tx, workspaceId, wish.buyer)
  const species = await requireSpecies(tx, workspaceId, wish.species)
  return tx.wish.create({
    data: {
      workspaceId,
      buyerId: wish.buyer,
      speciesId: species.id,
      sex: wish.sex ?? null,
      ...readStage(wish.stage, workspace),
      count: wish.count,
      madeOn: fromPlainDate(today),
      byOn: fromPlainDate(wish.by),
    },
    select: { id: true },
  })
}

function readStage(
  stage: string | undefined,
  workspace: Workspace,
): { moults: number | null; adult: boolean } {
  if (stage === undefined) return { moults: null, adult: false }
  if (stage === 'adult') return { moults: null, adult: true }
  const moults = moultsOfInstar(Number(stage), instarNamingOf(workspace).convention)
  if (moults === null) throw refuseField('stage', 'There is no such stage.')
  return { moults, adult: false }
}

/** Met, or no longer wanted. @throws AppError stale, not-found */
export async function endWish(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { id, version, as }: EndWish,
): Promise<void> {
  const known = await tx.wish.findUnique({ where: { workspaceId_id: { workspaceId, id } } })
  if (!known) throw refuseUnknown('wish')
  const ended = await tx.wish.updateMany({
    where: { workspaceId, id, version, endedOn: null },
    data: { endedOn: fromPlainDate(today), end: as, version: { increment: 1 } },
  })
  if (ended.count === 0) throw new AppError('stale', 'Someone else changed this wish meanwhile.')
}
