import { z } from 'zod'
import { PAPERS } from '@/lib/domain/care-sheet/paper'
import { LANGUAGES } from '@/lib/messages/language'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

/** More than this nobody carries into a hall; each has a sheet, a tag and a place in the print job. */
export const MOST_BOXED = 120
export const MOST_PARTS = 4

const nameSchema = z.string().trim().min(1, 'Say which show it is.').max(80, 'At most 80 letters.')
const labelsSchema = z.string().trim().max(4000, 'At most 4000 letters.').default('')

export const newShowBoxSchema = z
  .strictObject({
    name: nameSchema,
    packOn: plainDateSchema,
    returnOn: plainDateSchema,
    count: z
      .number('Enter a number.')
      .int('Whole animals only.')
      .min(1, 'At least one.')
      .max(MOST_BOXED, `At most ${MOST_BOXED}.`),
    species: z.union([z.literal(''), z.uuid()]).default(''),
    devices: z.coerce.number().int().min(1).max(MOST_PARTS).default(1),
    languages: z.array(z.enum(LANGUAGES)).min(1, 'Choose at least one language.').max(LANGUAGES.length),
  })
  .refine(({ packOn, returnOn }) => returnOn >= packOn, {
    path: ['returnOn'],
    message: 'Not before it is packed.',
  })
export type NewShowBox = z.output<typeof newShowBoxSchema>

const ofBox = { box: z.uuid(), version: z.number().int().positive() }

/** One comes out again, or some more go in, by their labels. */
export const unboxSchema = z.strictObject({ ...ofBox, individual: z.uuid() })
export type Unboxing = z.output<typeof unboxSchema>
export const boxMoreSchema = z.strictObject({
  ...ofBox,
  labels: labelsSchema.refine((text) => text !== '', 'Type or scan at least one label.'),
})
export type BoxingMore = z.output<typeof boxMoreSchema>

/** A device is lost: the rest of its part goes into a new one. */
export const newBoxPartSchema = z.strictObject({ ...ofBox, from: z.number().int().min(1).max(9) })

/** What came home: every cup that stands there, scanned one after the other. */
export const settleBoxSchema = z.strictObject({ ...ofBox, labels: labelsSchema })
export type Settling = z.output<typeof settleBoxSchema>

export const boxPapersSchema = z.strictObject({ box: z.uuid(), paper: z.enum(PAPERS).optional() })
export type BoxPapers = z.output<typeof boxPapersSchema>

/** Labels as a hand scanner leaves them: one after another, whatever stands between. */
export function readLabels(text: string): string[] {
  const ends = text.split(/[\n,;]+/).map((typed) => typed.trim().split('/').at(-1) ?? '')
  return ends.map((end) => end.replaceAll(/[?#].*$/g, '').trim()).filter(Boolean)
}
