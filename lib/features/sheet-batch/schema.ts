import { z } from 'zod'
import { sheetChoiceSchema, sheetNote } from '@/lib/features/care-sheet/schema'
import { warningSchema } from '@/lib/features/individual/schema'
import { describeApi } from '@/lib/platform/api/operation'

/** Sheets in one file: what an office printer takes in one go, and what is held in memory at once. */
export const SHEETS_A_FILE = 50

export const newSheetBatchSchema = sheetChoiceSchema.extend({
  individuals: z.array(z.uuid()).min(1, 'At least one animal.').max(500, 'At most 500 at once.'),
  note: sheetNote.optional(),
})
export type NewSheetBatch = z.output<typeof newSheetBatchSchema>

export const repeatSheetBatchSchema = z.strictObject({ batch: z.uuid() })
export type RepeatSheetBatch = z.output<typeof repeatSheetBatchSchema>

const batchAnswer = z
  .strictObject({
    id: z.string(),
    total: z.number().int(),
    done: z.number().int().meta({ description: 'sheets that are set or need not be: of animals gone since' }),
    failure: z.string().nullable(),
    files: z.array(
      z.strictObject({
        number: z.number().int(),
        sheets: z.number().int(),
        pdf: z.string().nullable().meta({ description: 'null once it is no longer kept' }),
      }),
    ),
  })
  .meta({ id: 'SheetBatch' })
export type SheetBatchAnswer = z.input<typeof batchAnswer>

const idParams = z.strictObject({ id: z.uuid() })
const fileParams = z.strictObject({ id: z.uuid(), file: z.string().regex(/^\d{1,3}\.pdf$/) })

export const sheetBatchApi = {
  create: describeApi({
    id: 'createSheetBatch',
    method: 'post',
    path: '/sheet-batches',
    tag: 'Care sheets',
    summary: 'Ask for the sheets of many animals; a job sets them, a file for every fifty',
    permission: 'care-sheet:print',
    body: newSheetBatchSchema,
    answer: batchAnswer.extend({ warnings: z.array(warningSchema) }),
  }),
  get: describeApi({
    id: 'getSheetBatch',
    method: 'get',
    path: '/sheet-batches/{id}',
    tag: 'Care sheets',
    summary: 'How far the sheets are, and where the finished files are',
    permission: 'care-sheet:print',
    params: idParams,
    answer: batchAnswer,
  }),
  file: describeApi({
    id: 'getSheetBatchFile',
    method: 'get',
    path: '/sheet-batches/{id}/files/{file}',
    tag: 'Care sheets',
    summary: 'A finished file of a batch, named by its number: 1.pdf',
    permission: 'care-sheet:print',
    params: fileParams,
    answer: z.string().meta({ description: 'application/pdf' }),
    produces: 'application/pdf',
  }),
}
