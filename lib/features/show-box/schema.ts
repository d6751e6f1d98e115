import { z } from 'zod'
import { daysBetween } from '@/lib/domain/calendar/date'
import { PAPERS } from '@/lib/domain/care-sheet/paper'
import { LANGUAGES } from '@/lib/messages/language'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

/** More than this nobody carries into a hall; each has a sheet, a tag and a place in the print job. */
export const MOST_BOXED = 120
export const MOST_PARTS = 4
const MOST_DAYS = 21
/** Sheets in one print job: what is held in memory at once. */
export const SHEETS_A_PRINT = 60

const nameSchema = z.string().trim().min(1, 'Say which show it is.').max(80, 'At most 80 letters.')
const labelsSchema = z.string().trim().max(4000, 'At most 4000 letters.').default('')

const ticked = z.boolean().optional()

/** The form ticks languages; nothing else is different. */
export const newShowBoxFormSchema = z
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
    languages: z
      .strictObject({ en: ticked, de: ticked, fr: ticked, es: ticked, nl: ticked })
      // Said at the first tick: no control stands for all of them.
      .refine((ticks) => LANGUAGES.some((language) => ticks[language]), {
        path: ['en'],
        message: 'Choose at least one language.',
      })
      .transform((ticks) => LANGUAGES.filter((language) => ticks[language])),
  })
  .refine(({ packOn, returnOn }) => returnOn >= packOn, {
    path: ['returnOn'],
    message: 'Not before it is packed.',
  })
  .refine(({ packOn, returnOn }) => daysBetween(packOn, returnOn) <= MOST_DAYS, {
    path: ['returnOn'],
    message: `At most ${MOST_DAYS} days.`,
  })
export type NewShowBox = z.output<typeof newShowBoxFormSchema>

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

/** What became of a box when it was settled. */
export type BoxSettled = {
  home: number
  sold: number
  /** Labels as people read them. */
  missing: string[]
  puzzles: { label: string; why: string }[]
}

export const boxPapersSchema = z.strictObject({ box: z.uuid(), paper: z.enum(PAPERS).optional() })
export type BoxPapers = z.output<typeof boxPapersSchema>

/** Labels as a hand scanner leaves them: one after another, whatever stands between. */
export function readLabels(text: string): string[] {
  const ends = text.split(/[\n,;]+/).map((typed) => typed.trim().split('/').at(-1) ?? '')
  return ends.map((end) => end.replaceAll(/[?#].*$/g, '').trim()).filter(Boolean)
}
