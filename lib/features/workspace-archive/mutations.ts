import type { ArchiveWorkspace } from '@/lib/features/workspace-archive/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/**
 * Closes every way into a workspace: pages, tokens, printed codes, invitations. Its records stay as they are.
 * @throws AppError invalid when another name was typed, stale when someone changed the workspace meanwhile
 */
export async function archiveWorkspace(
  tx: Tx,
  workspace: Workspace,
  { name, version }: ArchiveWorkspace,
): Promise<void> {
  if (name !== workspace.name) throw refuseField('name', `This workspace is called ${workspace.name}.`)
  const changed = await tx.workspace.updateMany({
    where: { workspaceId: workspace.workspaceId, version, archivedAt: null },
    data: { archivedAt: new Date(), version: { increment: 1 } },
  })
  if (changed.count === 0) throw new AppError('stale', 'Someone else changed the workspace meanwhile.')
}

/** Opens it again, for everybody who belonged to it. */
export async function restoreArchivedWorkspace(tx: Tx, workspaceId: WorkspaceId): Promise<void> {
  await tx.workspace.updateMany({
    where: { workspaceId, archivedAt: { not: null } },
    data: { archivedAt: null, version: { increment: 1 } },
  })
}
