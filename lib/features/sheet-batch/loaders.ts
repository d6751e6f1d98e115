import { requireSheetBatch, requireSheetFile, type SheetBatchRow } from '@/lib/features/sheet-batch/data'
import { loadPage, requireIdParam } from '@/lib/platform/page'

/** How far a batch is. */
export function loadSheetBatchPage(slug: string, id: string): Promise<SheetBatchRow> {
  return loadPage({ slug, permission: 'care-sheet:print' }, ({ tx, workspace }) =>
    requireSheetBatch(tx, workspace.workspaceId, requireIdParam(id)),
  )
}

/** A finished file of a batch. */
export function loadSheetFileForPage(
  slug: string,
  { batch, number }: { batch: string; number: number },
): Promise<Uint8Array> {
  return loadPage({ slug, permission: 'care-sheet:print' }, ({ tx, workspace }) =>
    requireSheetFile(tx, workspace.workspaceId, { batchId: requireIdParam(batch), number }),
  )
}
