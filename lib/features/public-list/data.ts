import type { Tx } from '@/lib/platform/db'
import { publicListAddress } from '@/lib/platform/public-link'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type PublicListRow = { version: number; saysCounts: boolean; address: string }

/** The public list of what is for sale; null while nobody has opened it, and after it was closed. */
export async function loadPublicList(tx: Tx, workspaceId: WorkspaceId): Promise<PublicListRow | null> {
  const link = await tx.publicLink.findFirst({
    where: { workspaceId, forSale: true, revokedAt: null },
    select: { id: true, generation: true, version: true, saysCounts: true },
  })
  return link && { version: link.version, saysCounts: link.saysCounts, address: publicListAddress(link) }
}
