import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import type { SheetChoice } from '@/lib/features/care-sheet/schema'
import { loadEggCaseSheet } from '@/lib/features/egg-case-sheet/data'
import { loadPage, type PageGate } from '@/lib/platform/page'

/** What the sheet of one egg case says. Reading it changes nothing. */
export function loadEggCaseSheetForPage(
  gate: PageGate,
  asked: { id: string; choice: SheetChoice },
): Promise<CareSheetPayload> {
  return loadPage(gate, ({ tx, workspace }) => loadEggCaseSheet(tx, workspace, asked))
}
