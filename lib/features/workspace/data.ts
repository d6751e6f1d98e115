import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** Whether nobody may work here whose sign-in asks for a password alone. */
export async function isSecondFactorRequired(tx: Tx, workspaceId: WorkspaceId): Promise<boolean> {
  const row = await tx.workspace.findUniqueOrThrow({
    where: { workspaceId },
    select: { requiresSecondFactor: true },
  })
  return row.requiresSecondFactor
}
