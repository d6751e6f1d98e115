import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import type { LabelRunPayload } from '@/lib/documents/label/render'
import { type AskedSheets, loadCareSheets, loadLabels, loadLotSheet } from '@/lib/features/care-sheet/data'
import type { SheetChoice } from '@/lib/features/care-sheet/schema'
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

export function loadLabelsForPage(
  gate: PageGate,
  asked: AskedSheets & { address: string },
): Promise<LabelRunPayload> {
  return loadPage(gate, ({ tx, workspace }) => loadLabels(tx, workspace, asked))
}
