import type { CodeKind } from '@/lib/domain/label/code'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** The id of whatever carries a label, if anything does. */
export async function getLabelledId(
  tx: Tx,
  workspaceId: WorkspaceId,
  { kind, code }: { kind: CodeKind; code: string },
): Promise<string | undefined> {
  const where = { workspaceId_label: { workspaceId, label: code } }
  const select = { id: true }
  if (kind === 'individual') return (await tx.individual.findUnique({ where, select }))?.id
  if (kind === 'clutch') return (await tx.clutch.findUnique({ where, select }))?.id
  if (kind === 'tray') return (await tx.tray.findUnique({ where, select }))?.id
  return (await tx.eggCase.findUnique({ where, select }))?.id
}
