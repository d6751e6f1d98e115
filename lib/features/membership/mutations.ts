import type { ChangeRole } from '@/lib/features/membership/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import type { Warning } from '@/lib/platform/warned'
import type { WorkspaceId } from '@/lib/platform/workspace'

/**
 * Gives someone another role, from their very next request on.
 * @throws AppError last-owner for the only owner left; stale when the role was changed meanwhile
 */
export async function updateRole(tx: Tx, workspaceId: WorkspaceId, change: ChangeRole): Promise<Warning[]> {
  const { personId, version, role } = change
  const owners = await lockOwners(tx, workspaceId)
  if (role !== 'owner') refuseLastOwner(owners, personId)
  const changed = await tx.membership.updateMany({
    where: { workspaceId, personId, version, endedAt: null },
    data: { role, version: { increment: 1 } },
  })
  if (changed.count === 0) throw await refuseStale(tx, workspaceId, personId)
  return role === 'owner' ? [] : revokeTokens(tx, workspaceId, personId)
}

/**
 * Ends someone's work here. Nothing they recorded loses its author.
 * @throws AppError last-owner for the only owner left
 */
export async function endMembership(tx: Tx, workspaceId: WorkspaceId, personId: string): Promise<Warning[]> {
  refuseLastOwner(await lockOwners(tx, workspaceId), personId)
  const ended = await tx.membership.updateMany({
    where: { workspaceId, personId, endedAt: null },
    data: { endedAt: new Date(), version: { increment: 1 } },
  })
  if (ended.count === 0) throw refuseUnknown('person')
  return revokeTokens(tx, workspaceId, personId)
}

/**
 * Every owner's row, locked in one order: of two owners who leave at once the second waits here and then sees that
 * the first is gone.
 */
async function lockOwners(tx: Tx, workspaceId: WorkspaceId): Promise<string[]> {
  const rows = await tx.$queryRaw<{ person_id: string }[]>`
    select person_id from membership
    where workspace_id = ${workspaceId}::uuid and role = 'owner' and ended_at is null
    order by person_id for update`
  return rows.map((row) => row.person_id)
}

function refuseLastOwner(owners: readonly string[], personId: string): void {
  if (owners.length === 1 && owners[0] === personId)
    throw new AppError('last-owner', 'This is the only owner. Make someone else an owner first.')
}

/** A token acts for whoever made it: it ends with their right to make one. */
async function revokeTokens(tx: Tx, workspaceId: WorkspaceId, personId: string): Promise<Warning[]> {
  const revoked = await tx.apiToken.updateMany({
    where: { workspaceId, personId, revokedAt: null, expiresAt: { gt: new Date() } },
    data: { revokedAt: new Date() },
  })
  if (revoked.count === 0) return []
  const message =
    revoked.count === 1
      ? 'An API token they had made does not work any more.'
      : `${revoked.count} API tokens they had made do not work any more.`
  return [{ code: 'tokens-revoked', message }]
}

async function refuseStale(tx: Tx, workspaceId: WorkspaceId, personId: string): Promise<AppError> {
  const present = await tx.membership.findFirst({
    where: { workspaceId, personId, endedAt: null },
    select: { role: true, version: true },
  })
  if (!present) return refuseUnknown('person')
  return new AppError('stale', 'Someone else changed this role meanwhile.', { present })
}
