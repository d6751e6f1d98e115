import { randomUUID } from 'node:crypto'
import type { PublishingList } from '@/lib/features/public-list/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { publicTokenHash } from '@/lib/platform/public-link'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** Opens the public list, or changes what it says. A closed address stays dead: closing has raised the generation. */
export async function updatePublicList(
  tx: Tx,
  workspaceId: WorkspaceId,
  { saysCounts }: PublishingList,
): Promise<void> {
  const id = randomUUID()
  await tx.publicLink.createMany({
    data: [{ workspaceId, id, forSale: true, saysCounts, tokenHash: publicTokenHash({ id, generation: 1 }) }],
    skipDuplicates: true,
  })
  await tx.publicLink.updateMany({
    where: { workspaceId, forSale: true, id: { not: id } },
    data: { revokedAt: null, saysCounts, version: { increment: 1 } },
  })
}

/** Closes it for good under this address. @throws AppError stale when it was closed or changed meanwhile */
export async function revokePublicList(
  tx: Tx,
  workspaceId: WorkspaceId,
  { version }: { version: number },
): Promise<void> {
  const link = await tx.publicLink.findFirst({
    where: { workspaceId, forSale: true, version, revokedAt: null },
  })
  const stale = new AppError('stale', 'The list was closed or changed meanwhile.')
  if (!link) throw stale
  const generation = link.generation + 1
  const changed = await tx.publicLink.updateMany({
    where: { workspaceId, id: link.id, version, revokedAt: null },
    data: {
      ...{ generation, revokedAt: new Date(), version: { increment: 1 } },
      tokenHash: publicTokenHash({ id: link.id, generation }),
    },
  })
  if (changed.count === 0) throw stale
}
