import { z } from 'zod'
import { PAPERS } from '@/lib/domain/care-sheet/paper'
import { individualParams } from '@/lib/features/individual/schema'
import { runLabelsQuerySchema } from '@/lib/features/separation/schema'
import { LANGUAGES } from '@/lib/messages/language'
import { describeApi } from '@/lib/platform/api/operation'

/** Paper and language; both follow the workspace where they are left out. */
export const sheetChoiceSchema = z.strictObject({
  paper: z.enum(PAPERS).optional(),
  language: z.enum(LANGUAGES).optional(),
})
export type SheetChoice = z.output<typeof sheetChoiceSchema>

/** What the buyer should know of this one besides. */
export const sheetNote = z.string().trim().max(4000, 'At most 4000 letters.')

/** Labels of chosen animals, by their ids with commas between, and the paper they are printed on. */
export const chosenLabelsQuerySchema = runLabelsQuerySchema.safeExtend({
  ids: z
    .string()
    .max(4_000)
    .transform((ids) => ids.split(','))
    .pipe(z.array(z.uuid()).min(1).max(100, 'At most 100 labels at once.')),
})
export type ChosenLabels = z.output<typeof chosenLabelsQuerySchema>

export const newCareSheetsSchema = sheetChoiceSchema.extend({
  individuals: z.array(z.uuid()).min(1, 'At least one animal.').max(100, 'At most 100 at once.'),
  /** One sheet for all of them: a pair, a lot. */
  together: z.boolean().optional(),
  note: sheetNote.optional(),
})
export type NewCareSheets = z.output<typeof newCareSheetsSchema>

const careSheetAnswer = z
  .strictObject({
    id: z.string(),
    individual: z.string(),
    lot: z
      .string()
      .nullable()
      .meta({ description: 'the animals it shares one sheet with; null for its own' }),
    paper: z.enum(PAPERS),
    language: z.enum(LANGUAGES),
    profileVersion: z.number().int().nullable(),
    publicPage: z.string().meta({ description: 'address of the page behind the code on the sheet' }),
    pdf: z.string().meta({ description: 'where this API hands out the sheet' }),
  })
  .meta({ id: 'CareSheet' })
export type CareSheetAnswer = z.input<typeof careSheetAnswer>

export const careSheetApi = {
  create: describeApi({
    id: 'createCareSheets',
    method: 'post',
    path: '/care-sheets',
    tag: 'Care sheets',
    summary: 'Record that sheets are printed; opens the public page of each animal',
    permission: 'care-sheet:print',
    body: newCareSheetsSchema,
    answer: z.strictObject({ items: z.array(careSheetAnswer) }),
  }),
  pdf: describeApi({
    id: 'renderCareSheet',
    method: 'get',
    path: '/individuals/{id}/care-sheet.pdf',
    tag: 'Care sheets',
    summary: 'The care sheet of one animal as a PDF of one page',
    permission: 'care-sheet:print',
    params: individualParams,
    query: sheetChoiceSchema,
    answer: z.string().meta({ description: 'application/pdf' }),
    produces: 'application/pdf',
  }),
  lotPdf: describeApi({
    id: 'renderLotSheet',
    method: 'get',
    path: '/sheet-lots/{id}/care-sheet.pdf',
    tag: 'Care sheets',
    summary: 'The one care sheet of several animals as a PDF of one page',
    permission: 'care-sheet:print',
    params: individualParams,
    query: sheetChoiceSchema,
    answer: z.string().meta({ description: 'application/pdf' }),
    produces: 'application/pdf',
  }),
  labelPdf: describeApi({
    id: 'renderIndividualLabel',
    method: 'get',
    path: '/individuals/{id}/label.pdf',
    tag: 'Care sheets',
    summary: 'The label of one animal for a 62 × 29 mm roll',
    permission: 'individual:read',
    params: individualParams,
    query: z.strictObject({ language: z.enum(LANGUAGES).optional() }),
    answer: z.string().meta({ description: 'application/pdf' }),
    produces: 'application/pdf',
  }),
}
