import { loadTill } from '@/lib/features/till/data'
import type { TillInput } from '@/lib/features/till/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** How this workspace sells from now on; receipts already written keep what they say. @throws AppError stale */
export async function updateTill(
  tx: Tx,
  workspaceId: WorkspaceId,
  { version, ...settings }: TillInput,
): Promise<{ version: number }> {
  const written =
    version === 0
      ? await tx.till.createMany({ data: [{ workspaceId, ...settings }], skipDuplicates: true })
      : await tx.till.updateMany({
          where: { workspaceId, version },
          data: { ...settings, version: { increment: 1 } },
        })
  const present = await loadTill(tx, workspaceId)
  if (written.count === 0)
    throw new AppError('stale', 'Someone else changed how this workspace sells meanwhile.', { present })
  return { version: present.version }
}
