import { loadUnprintable, readSheetChoice } from '@/lib/features/care-sheet/data'
import { lockIndividuals } from '@/lib/features/individual/data'
import { openPublicLinks } from '@/lib/features/public-link/data'
import { requireSheetBatch, type SheetBatchRow } from '@/lib/features/sheet-batch/data'
import type { NewSheetBatch } from '@/lib/features/sheet-batch/schema'
import { openSheetRecords, requirePrintable } from '@/lib/features/sheet-record/data'
import type { Tx } from '@/lib/platform/db'
import { enqueueSheetBatch } from '@/lib/platform/jobs'
import type { Warned } from '@/lib/platform/warned'
import type { Actor, WorkspaceId } from '@/lib/platform/workspace'

const KEPT_DAYS = 3
const DAY_MS = 86_400_000

/**
 * Records the sheets of many animals and asks a job to set them. Files of older batches are emptied meanwhile: they
 * can be made again from the records. Letters that no font has are told before anything is set.
 * @throws AppError already-gone for an animal that is dead or escaped
 */
export async function createSheetBatch(
  tx: Tx,
  actor: Actor,
  asked: NewSheetBatch,
): Promise<Warned<SheetBatchRow>> {
  const { scope, workspace } = actor
  const { workspaceId } = workspace
  const animals = await lockIndividuals(tx, workspaceId, asked.individuals)
  for (const animal of animals) requirePrintable(animal)
  const ids = animals.map(({ id }) => id)
  const links = await openPublicLinks(tx, workspaceId, { kind: 'individual', ids })
  const { paper, language } = readSheetChoice(asked, workspace)
  const { id: batchId } = await tx.sheetBatch.create({
    data: { workspaceId, paper, language, total: animals.length, createdBy: scope.personId },
    select: { id: true },
  })
  const printed = { paper, language, note: asked.note ?? '' }
  await openSheetRecords(tx, actor, { animals, printed, linkOf: (id) => links.get(id), lotId: null, batchId })
  await tx.sheetBatchFile.updateMany({
    where: {
      workspaceId,
      bytes: { not: null },
      createdAt: { lt: new Date(Date.now() - KEPT_DAYS * DAY_MS) },
    },
    data: { bytes: null },
  })
  await enqueueSheetBatch(tx, workspaceId, batchId)
  const warnings = await loadUnprintable(tx, workspace, { ids, note: asked.note })
  return { value: await requireSheetBatch(tx, workspaceId, batchId), warnings }
}

/** Asks for the files of a batch that failed or are no longer kept. @throws AppError not-found */
export async function updateSheetBatch(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<void> {
  const batch = await requireSheetBatch(tx, workspaceId, id)
  const done = batch.files.filter(({ isKept }) => isKept).reduce((sum, { sheets }) => sum + sheets, 0)
  await tx.sheetBatch.updateMany({ where: { workspaceId, id }, data: { done, failure: null } })
  await enqueueSheetBatch(tx, workspaceId, id)
}

/** Keeps a file that was set and counts its sheets. Set twice, the later one stays and counts once. */
export async function recordSheetFile(
  tx: Tx,
  workspaceId: WorkspaceId,
  file: { batchId: string; number: number; sheets: number; bytes: Uint8Array<ArrayBuffer> },
): Promise<void> {
  const { batchId, number, sheets, bytes } = file
  await requireSheetBatch(tx, workspaceId, batchId)
  await tx.sheetBatchFile.upsert({
    where: { workspaceId_batchId_number: { workspaceId, batchId, number } },
    create: { workspaceId, batchId, number, sheets, bytes },
    update: { sheets, bytes, createdAt: new Date() },
  })
  const kept = await tx.sheetBatchFile.aggregate({
    where: { workspaceId, batchId, bytes: { not: null } },
    _sum: { sheets: true },
  })
  await tx.sheetBatch.updateMany({
    where: { workspaceId, id: batchId },
    data: { done: kept._sum.sheets ?? 0, failure: null },
  })
}

/** How many sheets are ready to be set, while a file is being put together. */
export async function recordSheetProgress(
  tx: Tx,
  workspaceId: WorkspaceId,
  { batchId, done }: { batchId: string; done: number },
): Promise<void> {
  await requireSheetBatch(tx, workspaceId, batchId)
  await tx.sheetBatch.updateMany({ where: { workspaceId, id: batchId }, data: { done } })
}

/** That the job could not go on, in a sentence somebody reads. */
export async function recordSheetFailure(
  tx: Tx,
  workspaceId: WorkspaceId,
  { batchId, failure }: { batchId: string; failure: string },
): Promise<void> {
  await requireSheetBatch(tx, workspaceId, batchId)
  await tx.sheetBatch.updateMany({ where: { workspaceId, id: batchId }, data: { failure } })
}
