import { readSheetChoice } from '@/lib/features/care-sheet/data'
import type { CareSheetAnswer, NewCareSheets } from '@/lib/features/care-sheet/schema'
import { lockIndividuals } from '@/lib/features/individual/data'
import { openPublicLinks } from '@/lib/features/public-link/data'
import { openSheetRecords, requirePrintable, type SheetRows } from '@/lib/features/sheet-record/data'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import type { Actor } from '@/lib/platform/workspace'

/**
 * Records that sheets are printed, from which version of the care profile, and opens the page behind their code: a
 * sheet for each animal, or one for all that go home together. The PDF itself is drawn when it is fetched.
 * @throws AppError already-gone for an animal that is dead or escaped, invalid for a lot of several species
 */
export async function createCareSheets(
  tx: Tx,
  actor: Actor,
  { individuals, together, note = '', ...choice }: NewCareSheets,
): Promise<CareSheetAnswer[]> {
  const { workspace } = actor
  const animals = await lockIndividuals(tx, workspace.workspaceId, individuals)
  for (const animal of animals) requirePrintable(animal)
  const printed = { ...readSheetChoice(choice, workspace), note }
  if (together === true && animals.length > 1) return createLotSheet(tx, actor, { animals, printed })
  const ids = animals.map(({ id }) => id)
  const links = await openPublicLinks(tx, workspace.workspaceId, { kind: 'individual', ids })
  return openSheetRecords(tx, actor, {
    animals,
    printed,
    linkOf: (id) => links.get(id),
    lotId: null,
    batchId: null,
  })
}

async function createLotSheet(
  tx: Tx,
  actor: Actor,
  { animals, printed }: Pick<SheetRows, 'animals' | 'printed'>,
): Promise<CareSheetAnswer[]> {
  const { workspaceId } = actor.workspace
  if (new Set(animals.map(({ speciesId }) => speciesId)).size > 1)
    throw new AppError('invalid', 'One sheet for several animals is for animals of one species.')
  const { id: lotId } = await tx.sheetLot.create({ data: { workspaceId } })
  const links = await openPublicLinks(tx, workspaceId, { kind: 'lot', ids: [lotId] })
  return openSheetRecords(tx, actor, {
    animals,
    printed,
    linkOf: () => links.get(lotId),
    lotId,
    batchId: null,
  })
}
