import { chooseTaken } from '@/lib/domain/tray/choose'
import { lockIndividuals } from '@/lib/features/individual/data'
import { requireTray } from '@/lib/features/tray/data'
import type { TrayTaking } from '@/lib/features/tray/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type TakenFromTray = { individuals: { id: string; label: string }[]; left: number }

/**
 * Takes animals off a tray. From then on each is somebody: with the label that was set aside for its cup.
 * @throws AppError more-than-left; two who take at once wait for each other
 */
export async function updateTakenFromTray(
  tx: Tx,
  workspaceId: WorkspaceId,
  { tray: id, count, moults }: TrayTaking,
): Promise<TakenFromTray> {
  const tray = await requireTray(tx, workspaceId, id)
  const locked = await lockIndividuals(
    tx,
    workspaceId,
    tray.animals.map((animal) => animal.id),
  )
  const animals = locked.filter(({ trayId, whereabouts }) => trayId === id && whereabouts === 'single')
  const taken = chooseTaken(animals, { count, moults })
  if (taken.length < count)
    throw new AppError('more-than-left', `Only ${taken.length} of those are on ${tray.label}.`, {
      fields: [{ path: 'count', message: `Only ${taken.length} of those are there.` }],
    })
  await tx.individual.updateMany({
    where: { workspaceId, id: { in: taken.map((animal) => animal.id) }, trayId: id },
    data: { trayId: null, version: { increment: 1 } },
  })
  return {
    individuals: taken.map((animal) => ({ id: animal.id, label: animal.label })),
    left: animals.length - taken.length,
  }
}
