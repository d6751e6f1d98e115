import type { RevokePublicLink } from '@/lib/features/public-link/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import { publicTokenHash } from '@/lib/platform/public-link'
import type { WorkspaceId } from '@/lib/platform/workspace'

/**
 * Closes an animal's public page for good: the code on every sheet printed so far leads nowhere from now on.
 * @throws AppError stale when it was closed or opened again meanwhile
 */
export async function revokePublicLink(
  tx: Tx,
  workspaceId: WorkspaceId,
  { individual, version }: RevokePublicLink,
): Promise<void> {
  const link = await tx.publicLink.findUnique({
    where: { workspaceId_individualId: { workspaceId, individualId: individual } },
  })
  if (!link) throw refuseUnknown('public page')
  const generation = link.generation + 1
  const changed = await tx.publicLink.updateMany({
    where: { workspaceId, id: link.id, version, revokedAt: null },
    data: {
      generation,
      tokenHash: publicTokenHash({ id: link.id, generation }),
      revokedAt: new Date(),
      version: { increment: 1 },
    },
  })
  if (changed.count === 0) throw new AppError('stale', 'This page was closed or opened again meanwhile.')
}
