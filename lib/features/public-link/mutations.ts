import type { RevokePublicLink } from '@/lib/features/public-link/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseUnknown } from '@/lib/platform/errors'
import { publicTokenHash } from '@/lib/platform/public-link'
import type { WorkspaceId } from '@/lib/platform/workspace'

/**
 * Closes a public page for good: the code on every sheet printed so far leads nowhere from now on.
 * @throws AppError stale when it was closed or opened again meanwhile
 */
export async function revokePublicLink(
  tx: Tx,
  workspaceId: WorkspaceId,
  { individual, eggCase, lot, version }: RevokePublicLink,
): Promise<void> {
  const subject = individual
    ? { individualId: individual }
    : eggCase
      ? { eggCaseId: eggCase }
      : lot
        ? { lotId: lot }
        : null
  const link = subject && (await tx.publicLink.findFirst({ where: { workspaceId, ...subject } }))
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
