import { PAPERS } from '@/lib/domain/care-sheet/paper'
import type { SheetChoice } from '@/lib/features/care-sheet/schema'
import { SHEETS_A_FILE, type SheetBatchAnswer } from '@/lib/features/sheet-batch/schema'
import { isLanguage } from '@/lib/messages/language'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type SheetBatchRow = {
  id: string
  paper: string
  total: number
  done: number
  failure: string | null
  files: { number: number; sheets: number; isKept: boolean }[]
}

/** How far a batch is; the files themselves are not read. @throws AppError not-found */
export async function requireSheetBatch(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<SheetBatchRow> {
  const [row] = await tx.$queryRaw<SheetBatchRow[]>`
    select b.id, b.paper, b.total, b.done, b.failure,
      coalesce((select json_agg(json_build_object('number', f.number, 'sheets', f.sheets,
          'isKept', f.bytes is not null) order by f.number) from sheet_batch_file f
        where f.workspace_id = b.workspace_id and f.batch_id = b.id), '[]') as files
    from sheet_batch b where b.workspace_id = ${workspaceId}::uuid and b.id = ${id}::uuid`
  if (!row) throw refuseUnknown('batch of sheets')
  return row
}

export function presentSheetBatch({ files, paper: _paper, ...batch }: SheetBatchRow): SheetBatchAnswer {
  return {
    ...batch,
    files: files.map(({ number, sheets, isKept }) => ({
      number,
      sheets,
      pdf: isKept ? `/api/v1/sheet-batches/${batch.id}/files/${number}.pdf` : null,
    })),
  }
}

/** A finished file. @throws AppError not-found, also for one that is no longer kept */
export async function requireSheetFile(
  tx: Tx,
  workspaceId: WorkspaceId,
  { batchId, number }: { batchId: string; number: number },
): Promise<Uint8Array> {
  const file = await tx.sheetBatchFile.findFirst({
    where: { workspaceId, batchId, number },
    select: { bytes: true },
  })
  if (!file?.bytes?.length) throw refuseUnknown('file')
  return file.bytes
}

/** What one file of a batch is made from: the animals in the order asked for, without those that have gone since. */
export type SheetFilePlan = { number: number; individuals: string[]; sheets: number }
export type SheetBatchPlan = { choice: SheetChoice; files: SheetFilePlan[] }

/** The files of a batch that are still to be set. @throws AppError not-found */
export async function loadSheetBatchPlan(
  tx: Tx,
  workspaceId: WorkspaceId,
  id: string,
): Promise<SheetBatchPlan> {
  const batch = await tx.sheetBatch.findFirst({
    where: { workspaceId, id },
    select: {
      language: true,
      paper: true,
      files: { where: { bytes: { not: null } }, select: { number: true } },
      careSheets: {
        select: { individualId: true, individual: { select: { whereabouts: true } } },
        orderBy: { id: 'asc' },
      },
    },
  })
  if (!batch) throw refuseUnknown('batch of sheets')
  const set = new Set(batch.files.map(({ number }) => number))
  const files: SheetFilePlan[] = []
  for (let at = 0; at < batch.careSheets.length; at += SHEETS_A_FILE) {
    const part = batch.careSheets.slice(at, at + SHEETS_A_FILE)
    const there = part.filter(({ individual }) => individual && HAS_SHEET.has(individual.whereabouts))
    const individuals = there.flatMap(({ individualId }) => individualId ?? [])
    files.push({ number: at / SHEETS_A_FILE + 1, individuals, sheets: part.length })
  }
  const paper = PAPERS.find((known) => known === batch.paper)
  const choice = { paper, language: isLanguage(batch.language) ? batch.language : undefined }
  return { choice, files: files.filter(({ number }) => !set.has(number)) }
}

const HAS_SHEET = new Set(['single', 'sold', 'given_away'])
