import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { formatCode } from '@/lib/domain/label/code'
import { type IndividualRow, requireIndividuals } from '@/lib/features/individual/data'
import { listEarlyBuds, openLooks, refuseWinged } from '@/lib/features/look/data'
import type { ArchiveSigns, NewLooks } from '@/lib/features/look/schema'
import { loadProfiles } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warning } from '@/lib/platform/warned'
import type { Actor } from '@/lib/platform/workspace'

/**
 * That each of the animals was seen on a day, unchanged, and what it showed. Seen twice on one day is seen once, with
 * everything that was seen.
 */
export async function recordLooks(
  tx: Tx,
  { scope, workspace }: Actor,
  { on, individuals, wingBuds, refusesFood }: SeenLooks,
): Promise<{ recorded: number; warnings: Warning[] }> {
  const { workspaceId, today } = workspace
  refuseFuture('on', on, today)
  const animals = await requireIndividuals(tx, workspaceId, [...new Set(individuals)])
  for (const animal of animals) {
    refuseUnseen(animal, { on, today })
    if (wingBuds) refuseWinged(animal, { on, today })
  }
  await openLooks(
    tx,
    workspaceId,
    animals.map(({ id }) => ({ id, on, wingBuds, refusesFood, by: scope.personId })),
  )
  if (!wingBuds) return { recorded: animals.length, warnings: [] }
  const profiles = await loadProfiles(
    tx,
    workspaceId,
    animals.map(({ speciesId }) => speciesId),
  )
  return { recorded: animals.length, warnings: listEarlyBuds(animals, { profiles, on }) }
}

type SeenLooks = Omit<NewLooks, 'wingBuds' | 'refusesFood'> & Partial<NewLooks>

/** Takes back what a look showed; that somebody looked stays. */
export async function archiveSigns(
  tx: Tx,
  { workspace: { workspaceId } }: Actor,
  { individual, on }: ArchiveSigns,
): Promise<{ individual: string }> {
  await requireIndividuals(tx, workspaceId, [individual])
  const taken = await tx.look.updateMany({
    where: {
      workspaceId,
      individualId: individual,
      on: fromPlainDate(on),
      archivedAt: null,
      OR: [{ wingBuds: true }, { refusesFood: true }],
    },
    data: { wingBuds: false, refusesFood: false },
  })
  if (taken.count === 0) throw new AppError('already-reversed', 'This was already taken back.')
  return { individual }
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
