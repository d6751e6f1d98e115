import { z } from 'zod'
import { PAPERS } from '@/lib/domain/care-sheet/paper'
import { sheetChoiceSchema, sheetNote } from '@/lib/features/care-sheet/schema'
import { LANGUAGES } from '@/lib/messages/language'
import { describeApi } from '@/lib/platform/api/operation'

const params = z.strictObject({ id: z.uuid() })
const choice = sheetChoiceSchema.extend({ note: sheetNote.optional() })

export const newEggCaseSheetSchema = choice.extend({ eggCase: z.uuid() })
export type NewEggCaseSheet = z.output<typeof newEggCaseSheetSchema>

const eggCaseSheetAnswer = z
  .strictObject({
    id: z.string(),
    eggCase: z.string(),
    paper: z.enum(PAPERS),
    language: z.enum(LANGUAGES),
    profileVersion: z.number().int().nullable(),
    publicPage: z.string().meta({ description: 'address of the page behind the code on the sheet' }),
    pdf: z.string().meta({ description: 'where this API hands out the sheet' }),
  })
  .meta({ id: 'EggCaseSheet' })
export type EggCaseSheetAnswer = z.input<typeof eggCaseSheetAnswer>

export const eggCaseSheetApi = {
  create: describeApi({
    id: 'createEggCaseSheet',
    method: 'post',
    path: '/egg-cases/{id}/care-sheets',
    tag: 'Care sheets',
    summary: 'Record that the sheet of an egg case is printed; opens its public page',
    permission: 'care-sheet:print',
    params,
    body: choice,
    answer: eggCaseSheetAnswer,
  }),
  pdf: describeApi({
    id: 'renderEggCaseSheet',
    method: 'get',
    path: '/egg-cases/{id}/care-sheet.pdf',
    tag: 'Care sheets',
    summary: 'The care sheet of one egg case as a PDF of one page',
    permission: 'care-sheet:print',
    params,
    query: sheetChoiceSchema,
    answer: z.string().meta({ description: 'application/pdf' }),
    produces: 'application/pdf',
  }),
}
