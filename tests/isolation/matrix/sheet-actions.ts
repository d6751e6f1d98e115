import type { Ids } from '../calls/call'
import { RED_POINT } from '../calls/sheets'

type Inputs = Record<string, (id: Ids) => unknown>

export const SHEET_PRINTING: Inputs = {
  'care-sheet/actions createCareSheetsAction': (id) => ({ individuals: [id.individual] }),
  'egg-case-sheet/actions createEggCaseSheetAction': (id) => ({ eggCase: id.eggCase }),
  'sheet-batch/actions createSheetBatchAction': (id) => ({ individuals: [id.individual] }),
  'sheet-batch/actions repeatSheetBatchAction': (id) => ({ batch: id.sheetBatch }),
}

export const PHOTO_KEEPING: Inputs = {
  'photo/actions addPhotoAction': (id) => ({ individual: id.individual, picture: RED_POINT }),
  'photo/actions choosePhotoAction': (id) => ({ photo: id.photo, version: 1, onSheet: true }),
  'photo/actions archivePhotoAction': (id) => ({ photo: id.photo, version: 1 }),
}

export const PAGE_CLOSING: Inputs = {
  'public-link/actions revokePublicLinkAction': (id) => ({ individual: id.individual, version: 1 }),
}
