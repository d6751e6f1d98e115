import { eggCaseFacts, eggCaseWeeks } from '@/lib/documents/care-sheet/from-egg-case'
import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import {
  CALENDAR_DAYS,
  loadSoldFoods,
  PROTECTED_SOMEWHERE,
  readSheetChoice,
  sellerOf,
  soldAmong,
} from '@/lib/features/care-sheet/data'
import type { SheetChoice } from '@/lib/features/care-sheet/schema'
import {
  type EggCaseRow,
  forecastEggCase,
  loadForecastGround,
  requireEggCase,
} from '@/lib/features/egg-case/data'
import { loadPublicLinks } from '@/lib/features/public-link/data'
import { loadPrintedBefore, reprintOf } from '@/lib/features/sheet-record/data'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant } from '@/lib/platform/errors'
import type { Workspace } from '@/lib/platform/workspace'

/**
 * What the sheet of an egg case says, from its records and the care profile in force.
 * @throws AppError not-found, also for one that has ended otherwise than by being given away
 */
export async function loadEggCaseSheet(
  tx: Tx,
  workspace: Workspace,
  { id, choice }: { id: string; choice: SheetChoice },
): Promise<CareSheetPayload> {
  const { workspaceId, today } = workspace
  const row = await requireEggCase(tx, workspaceId, id)
  requireKept(row)
  const ground = await loadForecastGround(tx, workspace)
  const species = ground.species.get(row.speciesId)
  invariant(species, 'an egg case is of a species that is listed')
  const link = (await loadPublicLinks(tx, workspaceId, { kind: 'egg-case', ids: [id] })).get(id)
  const before = (await loadPrintedBefore(tx, workspaceId, { kind: 'egg-case', ids: [id] })).get(id)
  const sold = await loadSoldFoods(tx, workspace)
  const { profile, scientificName, commonName, kind, slug } = species
  const eggCase = eggCaseFacts(row, { profile, forecast: forecastEggCase(row, ground), today })
  const weeks = eggCaseWeeks(eggCase, { profile, today, days: CALENDAR_DAYS })
  return {
    ...readSheetChoice(choice, workspace),
    units: { temperature: workspace.temperatureUnit, length: workspace.lengthUnit },
    printedOn: today,
    handedOverOn: row.end === 'given_away' ? row.endedOn : null,
    seller: sellerOf(workspace),
    country: workspace.country,
    species: {
      scientificName,
      commonName: commonName || null,
      kind,
      legalNote: PROTECTED_SOMEWHERE.has(slug) ? 'proof-of-origin' : 'general',
    },
    animal: { labelCode: row.label, sex: 'unsexed', certainty: 'none', note: before?.note || null },
    eggCase,
    ...weeks,
    food: weeks.food && soldAmong(weeks.food, sold),
    publicPageUrl: link?.address ?? null,
    profileVersion: species.profileNumber,
    reprint: reprintOf(before),
  }
}

/** @throws AppError not-found for an egg case whose time is over here */
export function requireKept({ label, endedOn, end }: Pick<EggCaseRow, 'label' | 'endedOn' | 'end'>): void {
  if (endedOn !== null && end !== 'given_away')
    throw new AppError('not-found', `${label} has ended, so there is no sheet of it.`)
}
