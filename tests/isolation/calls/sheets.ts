import { loadLotSheet, loadSoldFoods, loadUnprintable } from '@/lib/features/care-sheet/data'
import { loadEggCaseSheet } from '@/lib/features/egg-case-sheet/data'
import { createEggCaseSheet } from '@/lib/features/egg-case-sheet/mutations'
import { requireIndividual } from '@/lib/features/individual/data'
import { listPhotos, loadPublicPhoto, loadSheetPhotos, requirePhotoBytes } from '@/lib/features/photo/data'
import { archivePhoto, createPhoto, updatePhoto } from '@/lib/features/photo/mutations'
import { openPublicLinks } from '@/lib/features/public-link/data'
import { loadSheetBatchPlan, requireSheetBatch, requireSheetFile } from '@/lib/features/sheet-batch/data'
import {
  createSheetBatch,
  recordSheetFailure,
  recordSheetFile,
  recordSheetProgress,
  updateSheetBatch,
} from '@/lib/features/sheet-batch/mutations'
import { loadPrintedBefore, openSheetRecords } from '@/lib/features/sheet-record/data'
import type { Calls } from './call'

/** One red point, as a picture somebody could send. */
export const RED_POINT =
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8BQDwAEhQGAhKmMIQAAAABJRU5ErkJggg=='

export const SHEET_READS: Calls = {
  'care-sheet/data loadUnprintable': (tx, { workspace }, id) =>
    loadUnprintable(tx, workspace, { ids: [id.individual] }),
  'care-sheet/data loadLotSheet': (tx, { workspace }, id) =>
    loadLotSheet(tx, workspace, { lotId: id.lot, choice: {} }),
  'sheet-record/data loadPrintedBefore': (tx, { workspace }, id) =>
    loadPrintedBefore(tx, workspace.workspaceId, { kind: 'individual', ids: [id.individual] }),
  'care-sheet/data loadSoldFoods': (tx, { workspace }) => loadSoldFoods(tx, workspace),
  'egg-case-sheet/data loadEggCaseSheet': (tx, { workspace }, id) =>
    loadEggCaseSheet(tx, workspace, { id: id.eggCase, choice: {} }),
  'photo/data listPhotos': (tx, { workspace }, id) => listPhotos(tx, workspace.workspaceId, id.individual),
  'photo/data requirePhotoBytes': (tx, { workspace }, id) =>
    requirePhotoBytes(tx, workspace.workspaceId, { photoId: id.photo, individualId: id.individual }),
  'photo/data loadSheetPhotos': (tx, { workspace }, id) =>
    loadSheetPhotos(tx, workspace.workspaceId, [id.individual]),
  'photo/data loadPublicPhoto': (tx, { workspace }, id) =>
    loadPublicPhoto(tx, workspace.workspaceId, id.individual),
  'sheet-batch/data requireSheetBatch': (tx, { workspace }, id) =>
    requireSheetBatch(tx, workspace.workspaceId, id.sheetBatch),
  'sheet-batch/data requireSheetFile': (tx, { workspace }, id) =>
    requireSheetFile(tx, workspace.workspaceId, { batchId: id.sheetBatch, number: 1 }),
  'sheet-batch/data loadSheetBatchPlan': (tx, { workspace }, id) =>
    loadSheetBatchPlan(tx, workspace.workspaceId, id.sheetBatch),
}

export const SHEET_WRITES: Calls = {
  'sheet-record/data openSheetRecords': async (tx, actor, id) => {
    const { workspaceId } = actor.workspace
    const animals = [await requireIndividual(tx, workspaceId, id.individual)]
    const individuals = animals.map((animal) => animal.id)
    const links = await openPublicLinks(tx, workspaceId, { kind: 'individual', ids: individuals })
    const linkOf = (animal: string) => links.get(animal)
    const printed = { paper: 'a4', language: 'en', note: '' } as const
    return openSheetRecords(tx, actor, { animals, printed, linkOf, lotId: null, batchId: null })
  },
  'egg-case-sheet/mutations createEggCaseSheet': (tx, actor, id) =>
    createEggCaseSheet(tx, actor, { eggCase: id.eggCase }),
  'photo/mutations createPhoto': (tx, actor, id) =>
    createPhoto(tx, actor, { individual: id.individual, picture: RED_POINT }),
  'photo/mutations updatePhoto': (tx, { workspace }, id) =>
    updatePhoto(tx, workspace.workspaceId, { photo: id.photo, version: 1, onSheet: true }),
  'photo/mutations archivePhoto': (tx, { workspace }, id) =>
    archivePhoto(tx, workspace.workspaceId, { photo: id.photo, version: 1 }),
  'sheet-batch/mutations createSheetBatch': (tx, actor, id) =>
    createSheetBatch(tx, actor, { individuals: [id.individual] }),
  'sheet-batch/mutations updateSheetBatch': (tx, { workspace }, id) =>
    updateSheetBatch(tx, workspace.workspaceId, id.sheetBatch),
  'sheet-batch/mutations recordSheetFile': (tx, { workspace }, id) =>
    recordSheetFile(tx, workspace.workspaceId, {
      batchId: id.sheetBatch,
      number: 1,
      sheets: 1,
      bytes: new Uint8Array([1]),
    }),
  'sheet-batch/mutations recordSheetProgress': (tx, { workspace }, id) =>
    recordSheetProgress(tx, workspace.workspaceId, { batchId: id.sheetBatch, done: 1 }),
  'sheet-batch/mutations recordSheetFailure': (tx, { workspace }, id) =>
    recordSheetFailure(tx, workspace.workspaceId, { batchId: id.sheetBatch, failure: 'why' }),
}
