import { formatCode } from '@/lib/domain/label/code'
import { readSheetChoice } from '@/lib/features/care-sheet/data'
import type { CareSheetAnswer, NewCareSheets } from '@/lib/features/care-sheet/schema'
import { lockIndividuals } from '@/lib/features/individual/data'
import { openPublicLinks } from '@/lib/features/public-link/data'
import { loadProfiles } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Actor } from '@/lib/platform/workspace'

/**
 * Records that sheets are printed, from which version of the care profile, and opens the page behind their code. The
 * PDF itself is drawn when it is fetched.
 * @throws AppError invalid for a species without a care profile, already-gone for an animal that is dead or escaped
 */
export async function createCareSheets(
  tx: Tx,
  { scope, workspace }: Actor,
  sheets: NewCareSheets,
): Promise<CareSheetAnswer[]> {
  const { workspaceId, today } = workspace
  const animals = await lockIndividuals(tx, workspaceId, sheets.individuals)
  const profiles = await loadProfiles(tx, workspaceId)
  const { paper, language } = readSheetChoice(sheets, workspace)
  const numbers = animals.map((animal) => {
    refuseUnprintable(animal)
    const number = profiles.get(animal.speciesId)?.profileNumber
    if (number == null) throw new AppError('invalid', 'This species has no care profile yet, so no sheet.')
    return number
  })
  const links = await openPublicLinks(
    tx,
    workspaceId,
    animals.map(({ id }) => id),
  )
  const made = await tx.careSheet.createManyAndReturn({
    data: animals.map((animal, index) => ({
      workspaceId,
      individualId: animal.id,
      speciesId: animal.speciesId,
      profileNumber: numbers[index] ?? 1,
      publicLinkId: links.get(animal.id)?.id ?? '',
      language,
      paper,
      printedOn: fromPlainDate(today),
      printedBy: scope.personId,
    })),
    select: { id: true, individualId: true, profileNumber: true },
  })
  return made.map(({ id, individualId, profileNumber }) => {
    const link = links.get(individualId)
    invariant(link, 'every printed animal has a page')
    const pdf = `/api/v1/individuals/${individualId}/care-sheet.pdf?paper=${paper}&language=${language}`
    return {
      id,
      individual: individualId,
      paper,
      language,
      profileVersion: profileNumber,
      publicPage: link.address,
      pdf,
    }
  })
}

/** A sheet is for an animal that is here, or that somebody has just taken home. */
function refuseUnprintable(animal: { label: string; whereabouts: string }): void {
  if (['single', 'sold', 'given_away'].includes(animal.whereabouts)) return
  throw new AppError(
    'already-gone',
    `${formatCode(animal.label)} is not here any more, so there is no sheet to print.`,
  )
}
