import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { formatCode } from '@/lib/domain/label/code'
import { type IndividualRow, requireIndividuals } from '@/lib/features/individual/data'
import type { NewLooks } from '@/lib/features/look/schema'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Actor } from '@/lib/platform/workspace'

/** That each of the animals was seen on a day, unchanged. Seen twice on one day is seen once. */
export async function recordLooks(
  tx: Tx,
  { scope, workspace }: Actor,
  { on, individuals }: NewLooks,
): Promise<{ recorded: number }> {
  const { workspaceId, today } = workspace
  refuseFuture('on', on, today)
  const animals = await requireIndividuals(tx, workspaceId, [...new Set(individuals)])
  for (const animal of animals) refuseUnseen(animal, { on, today })
  await tx.look.createMany({
    data: animals.map(({ id }) => ({
      workspaceId,
      individualId: id,
      on: fromPlainDate(on),
      lookedBy: scope.personId,
    })),
    skipDuplicates: true,
  })
  return { recorded: animals.length }
}

/**
 * Nobody can have seen an animal here before its record begins, or after it left.
 * @throws AppError invalid, already-gone
 */
export function refuseUnseen(
  animal: IndividualRow,
  { on, today }: { on: PlainDate; today: PlainDate },
): void {
  const { baselineOn, whereabouts, whereaboutsSince } = animal
  if (on < baselineOn)
    throw refuseField(
      'on',
      `${formatCode(animal.label)}: this day is before its record begins (${writeDay(baselineOn, today)}).`,
    )
  if (whereabouts !== 'single' && whereaboutsSince && on > whereaboutsSince)
    throw new AppError('already-gone', whereaboutsSentence(animal, today))
}
