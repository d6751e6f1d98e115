import { writeDay } from '@/lib/domain/calendar/wording'
import type { NewFeeding } from '@/lib/features/feeding/schema'
import { refuseAway, requireIndividuals } from '@/lib/features/individual/data'
import { requireTray } from '@/lib/features/tray/data'
import type { TrayFeeding } from '@/lib/features/tray/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Workspace } from '@/lib/platform/workspace'

/** That each of the animals ate, or refused, on a day. */
export async function recordFeedings(
  tx: Tx,
  { workspaceId, today }: Workspace,
  feeding: NewFeeding,
): Promise<{ recorded: number }> {
  const { on, ate, prey } = feeding
  refuseFuture('on', on, today)
  const animals = await requireIndividuals(tx, workspaceId, [...new Set(feeding.individuals)])
  for (const animal of animals) {
    if (animal.whereaboutsSince && on >= animal.whereaboutsSince) refuseAway(animal, today)
    if (on < animal.baselineOn)
      throw refuseField('on', `This day is before its record begins (${writeDay(animal.baselineOn, today)}).`)
  }
  await tx.feeding.createMany({
    data: animals.map(({ id }) => ({ workspaceId, individualId: id, on: fromPlainDate(on), ate, prey })),
  })
  return { recorded: animals.length }
}

/** A whole tray ate, or refused. @throws AppError more-than-left where nobody stands on it */
export async function recordTrayFeeding(
  tx: Tx,
  workspace: Workspace,
  { tray: id, on, result, prey }: TrayFeeding,
): Promise<{ recorded: number }> {
  const tray = await requireTray(tx, workspace.workspaceId, id)
  if (tray.animals.length === 0) throw new AppError('more-than-left', `Nobody is on ${tray.label} any more.`)
  const individuals = tray.animals.map((animal) => animal.id)
  return recordFeedings(tx, workspace, { individuals, on, ate: result === 'ate', prey })
}
