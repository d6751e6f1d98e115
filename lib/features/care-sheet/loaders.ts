import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import type { LabelRunPayload } from '@/lib/documents/label/render'
import { getLabelSheet } from '@/lib/domain/label/sheet'
import { type AskedSheets, loadCareSheets, loadLabels, loadLotSheet } from '@/lib/features/care-sheet/data'
import type { ChosenLabels, SheetChoice } from '@/lib/features/care-sheet/schema'
import { loadPage, type PageGate } from '@/lib/platform/page'

/** What the sheets of some animals say. Reading them changes nothing. */
export function loadCareSheetsForPage(gate: PageGate, asked: AskedSheets): Promise<CareSheetPayload[]> {
  return loadPage(gate, ({ tx, workspace }) => loadCareSheets(tx, workspace, asked))
}

/** What the one sheet of animals that go home together says. */
export function loadLotSheetForPage(
  gate: PageGate,
  asked: { lotId: string; choice: SheetChoice },
): Promise<CareSheetPayload> {
  return loadPage(gate, ({ tx, workspace }) => loadLotSheet(tx, workspace, asked))
}

/** The labels of chosen animals for the paper in the printer. */
export function loadChosenLabels(
  slug: string,
  { ids, layout, start, address }: ChosenLabels & { address: string },
): Promise<LabelRunPayload> {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, workspace }) => {
    const labels = await loadLabels(tx, workspace, { ids, choice: {}, address })
    const sheet = getLabelSheet(layout)
    return sheet ? { ...labels, layout: { sheet, startAt: start } } : labels
  })
}

export function loadLabelsForPage(
  gate: PageGate,
  asked: AskedSheets & { address: string },
): Promise<LabelRunPayload> {
  return loadPage(gate, ({ tx, workspace }) => loadLabels(tx, workspace, asked))
}
