import { formatCode } from '@/lib/domain/label/code'
import { mayOverride } from '@/lib/domain/role/overrides'
import { loadOverridable } from '@/lib/features/clearance/data'
import type { ArchiveClearance, ClearanceInput } from '@/lib/features/clearance/schema'
import { lockIndividual } from '@/lib/features/individual/data'
import { loadTill, overrideRulesOf } from '@/lib/features/till/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Actor, Workspace } from '@/lib/platform/workspace'

/**
 * Lets an animal leave on a day, against as much as this role may override. What it may not stays in the way.
 * @throws AppError stale where nothing speaks against it; not-cleared where this role may override none of it; already-gone
 */
export async function createClearance(
  tx: Tx,
  { scope, workspace }: Actor,
  { individual, reason, on = workspace.today }: ClearanceInput,
) {
  const { workspaceId, today } = workspace
  refuseFuture('on', on, today)
  const animal = await lockIndividual(tx, workspaceId, individual)
  const label = formatCode(animal.label)
  if (animal.whereabouts !== 'single') throw new AppError('already-gone', `${label} is not here any more.`)
  const found = await loadOverridable(tx, workspace, { animals: [animal], on })
  const against = found.get(animal.id) ?? []
  if (against.length === 0)
    throw new AppError('stale', `Nothing keeps ${label} here that day. Look again, please.`)
  const rules = overrideRulesOf(await loadTill(tx, workspaceId))
  const codes = against.filter((code) => mayOverride(scope.role, code, rules))
  if (codes.length === 0)
    throw new AppError('not-cleared', `Your role may not override what keeps ${label} here. Ask the owner.`)
  const made = await tx.clearance.create({
    data: {
      ...{ workspaceId, individualId: animal.id, codes, reason, givenBy: scope.personId },
      on: fromPlainDate(on),
    },
    select: { id: true },
  })
  return { id: made.id, codes }
}

/** Takes it back; what has left meanwhile has left. @throws AppError stale */
export async function archiveClearance(
  tx: Tx,
  { workspaceId }: Workspace,
  { clearance, version }: ArchiveClearance,
): Promise<void> {
  const key = { workspaceId_id: { workspaceId, id: clearance } }
  if (!(await tx.clearance.findUnique({ where: key, select: { id: true } }))) throw refuseUnknown('clearance')
  const taken = await tx.clearance.updateMany({
    where: { workspaceId, id: clearance, version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (taken.count === 0) throw new AppError('stale', 'This was taken back meanwhile.')
}
