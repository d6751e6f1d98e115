import { readSheetChoice } from '@/lib/features/care-sheet/data'
import { requireEggCase } from '@/lib/features/egg-case/data'
import { requireKept } from '@/lib/features/egg-case-sheet/data'
import type { EggCaseSheetAnswer, NewEggCaseSheet } from '@/lib/features/egg-case-sheet/schema'
import { openPublicLinks } from '@/lib/features/public-link/data'
import { loadProfiles } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Actor } from '@/lib/platform/workspace'

/**
 * Records that the sheet of an egg case is printed, and opens the page behind its code.
 * @throws AppError not-found for one that has ended
 */
export async function createEggCaseSheet(
  tx: Tx,
  { scope, workspace }: Actor,
  { eggCase, note = '', ...choice }: NewEggCaseSheet,
): Promise<EggCaseSheetAnswer> {
  const { workspaceId, today } = workspace
  await tx.$queryRaw`
    select id from egg_case where workspace_id = ${workspaceId}::uuid and id = ${eggCase}::uuid for update`
  const row = await requireEggCase(tx, workspaceId, eggCase)
  requireKept(row)
  const species = (await loadProfiles(tx, workspaceId, [row.speciesId])).get(row.speciesId)
  const link = (await openPublicLinks(tx, workspaceId, { kind: 'egg-case', ids: [eggCase] })).get(eggCase)
  invariant(link, 'every printed egg case has a page')
  const { paper, language } = readSheetChoice(choice, workspace)
  const profileNumber = species?.profileNumber ?? null
  const { id } = await tx.careSheet.create({
    data: {
      workspaceId,
      eggCaseId: eggCase,
      speciesId: row.speciesId,
      profileNumber,
      publicLinkId: link.id,
      language,
      paper,
      note,
      printedOn: fromPlainDate(today),
      printedBy: scope.personId,
    },
    select: { id: true },
  })
  return {
    id,
    eggCase,
    paper,
    language,
    profileVersion: profileNumber,
    publicPage: link.address,
    pdf: `/api/v1/egg-cases/${eggCase}/care-sheet.pdf?paper=${paper}&language=${language}`,
  }
}
