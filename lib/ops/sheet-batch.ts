// The job that sets many care sheets: records are read ten animals at a time, a file of fifty is set outside of any
// transaction, kept, and forgotten before the next one, so that 500 sheets take the memory of fifty.

import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import { renderCareSheetsOffThread } from '@/lib/documents/care-sheet/render'
import { loadCareSheets } from '@/lib/features/care-sheet/data'
import type { SheetChoice } from '@/lib/features/care-sheet/schema'
import { loadSheetBatchPlan, requireSheetBatch, type SheetFilePlan } from '@/lib/features/sheet-batch/data'
import {
  recordSheetFailure,
  recordSheetFile,
  recordSheetProgress,
} from '@/lib/features/sheet-batch/mutations'
import { AppError } from '@/lib/platform/errors'
import { type FeatureJobs, readSheetBatchJob } from '@/lib/platform/jobs'
import { log } from '@/lib/platform/log'
import { inWorkspace, mintScope, type Scope } from '@/lib/platform/workspace'

export const SHEET_BATCH_JOBS: FeatureJobs = {
  tasks: { 'set-sheets': (payload) => setSheets(readSheetBatchJob(payload)) },
  everyMinute: [],
}

const READ_AT_ONCE = 10

/** At least once: a file that is kept already is not set again. */
export async function setSheets({
  workspaceId,
  batchId,
}: {
  workspaceId: string
  batchId: string
}): Promise<void> {
  const scope = mintScope({ workspaceId, personId: null, role: 'owner' })
  try {
    const plan = await inWorkspace(scope, (tx) => loadSheetBatchPlan(tx, scope.workspaceId, batchId))
    for (const file of plan.files) await setFile(scope, batchId, { file, choice: plan.choice })
  } catch (error) {
    log.error(
      { where: 'set-sheets', error: error instanceof Error ? error.message : String(error) },
      'no sheets',
    )
    const failure = error instanceof AppError ? error.message : 'Something went wrong while they were set.'
    await inWorkspace(scope, (tx) => recordSheetFailure(tx, scope.workspaceId, { batchId, failure }))
  }
}

async function setFile(
  scope: Scope,
  batchId: string,
  { file, choice }: { file: SheetFilePlan; choice: SheetChoice },
): Promise<void> {
  const { workspaceId } = scope
  const { done } = await inWorkspace(scope, (tx) => requireSheetBatch(tx, workspaceId, batchId))
  const sheets: CareSheetPayload[] = []
  for (let at = 0; at < file.individuals.length; at += READ_AT_ONCE) {
    const ids = file.individuals.slice(at, at + READ_AT_ONCE)
    sheets.push(
      ...(await inWorkspace(scope, (tx, workspace) => loadCareSheets(tx, workspace, { ids, choice }))),
    )
    // The last step of a file is its setting: until then one sheet is kept back.
    const ready = done + Math.min(sheets.length, file.sheets - 1)
    await inWorkspace(scope, (tx) => recordSheetProgress(tx, workspaceId, { batchId, done: ready }))
  }
  // A file whose animals have all gone since has nothing in it, and is done.
  const bytes = sheets.length > 0 ? await renderCareSheetsOffThread(sheets) : new Uint8Array()
  const kept = { batchId, number: file.number, sheets: file.sheets, bytes: new Uint8Array(bytes) }
  await inWorkspace(scope, (tx) => recordSheetFile(tx, workspaceId, kept))
}
