import { z } from 'zod'
import { daysBetween } from '@/lib/domain/calendar/date'
import { PAPERS } from '@/lib/domain/care-sheet/paper'
import type { SettledItems } from '@/lib/domain/show-box/settle'
import { warningSchema } from '@/lib/features/individual/schema'
import { moneyAnswer } from '@/lib/features/order-payment/schema'
import { orderedStockSchema } from '@/lib/features/order-stock/schema'
import { LANGUAGES } from '@/lib/messages/language'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
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

const packing = {
  name: nameSchema,
  packOn: plainDateSchema,
  returnOn: plainDateSchema,
  count: z
    .number('Enter a number.')
    .int('Whole animals only.')
    .min(1, 'At least one.')
    .max(MOST_BOXED, `At most ${MOST_BOXED}.`),
}

/** The form ticks languages; nothing else is different. */
export const newShowBoxFormSchema = z
  .strictObject({
    ...packing,
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
export const settleBoxSchema = z.strictObject({
  ...ofBox,
  labels: labelsSchema,
  /** things of the stock that were counted; those left empty were not */
  counts: z
    .array(
      z.strictObject({
        item: z.number().int().positive(),
        home: z
          .number('Enter a number.')
          .int('Enter a whole number.')
          .min(0, 'Not below nothing.')
          .max(10_000)
          .optional(),
      }),
    )
    .max(200)
    .default([])
    .transform((counts) => counts.flatMap(({ item, home }) => (home === undefined ? [] : [{ item, home }]))),
})
export type Settling = z.output<typeof settleBoxSchema>

/** What became of a box when it was settled. */
export type BoxSettled = {
  home: number
  sold: number
  /** Labels as people read them. */
  missing: string[]
  puzzles: { label: string; why: string }[]
  /** of the stock: what neither came home nor is on a receipt, and what is beyond what was packed */
  things: SettledItems
}

export const boxPapersSchema = z.strictObject({ box: z.uuid(), paper: z.enum(PAPERS).optional() })
export type BoxPapers = z.output<typeof boxPapersSchema>

/** Labels as a hand scanner leaves them: one after another, whatever stands between. */
export function readLabels(text: string): string[] {
  const ends = text.split(/[\n,;]+/).map((typed) => typed.trim().split('/').at(-1) ?? '')
  return ends.map((end) => end.replaceAll(/[?#].*$/g, '').trim()).filter(Boolean)
}

const boxAnswer = z
  .strictObject({
    id: z.string(),
    number: z.number().int(),
    name: z.string(),
    packOn: plainDateSchema,
    returnOn: plainDateSchema,
    languages: z.array(z.string()),
    settledOn: plainDateSchema.nullable(),
    version: z.number().int(),
    parts: z.array(
      z.strictObject({
        number: z.number().int(),
        series: z.string().meta({ description: 'of its receipts' }),
        isTaken: z.boolean().meta({ description: 'a device sells from it' }),
        receipts: z.number().int().meta({ description: 'that have arrived' }),
      }),
    ),
    animals: z.array(
      z.strictObject({
        individual: z.string(),
        part: z.number().int(),
        end: z.enum(['home', 'sold', 'missing', 'left_out']).nullable(),
      }),
    ),
    items: z.array(
      z.strictObject({
        number: z.number().int(),
        part: z.number().int(),
        kind: z.enum(['egg_case', 'culture', 'container', 'pack']),
        description: z.string(),
        price: moneyAnswer,
        packed: z.number().int(),
        sold: z.number().int().meta({ description: 'on receipts that have arrived' }),
        home: z.number().int().nullable().meta({ description: 'as counted when it came back' }),
        isOut: z.boolean().meta({ description: 'it stayed at home' }),
      }),
    ),
  })
  .meta({ id: 'ShowBox' })
export type ShowBoxAnswer = z.input<typeof boxAnswer>

const boxWithWarnings = boxAnswer.extend({ warnings: z.array(warningSchema) })
const boxParams = z.strictObject({ id: z.uuid() })
const seen = {
  version: z
    .number()
    .int()
    .positive()
    .optional()
    .meta({ description: 'the version that was looked at, as If-Match' }),
}
const tag = 'Sales'

export const showBoxApi = {
  list: describeApi({
    id: 'listShowBoxes',
    method: 'get',
    path: '/show-boxes',
    tag,
    summary: 'Show boxes, newest first',
    permission: 'sale:read',
    answer: listAnswer(boxAnswer),
  }),
  load: describeApi({
    id: 'loadShowBox',
    method: 'get',
    path: '/show-boxes/{id}',
    tag,
    summary: 'One show box: who and what lies in which part, what is sold, what came home',
    permission: 'sale:read',
    params: boxParams,
    answer: boxAnswer,
  }),
  create: describeApi({
    id: 'createShowBox',
    method: 'post',
    path: '/show-boxes',
    tag,
    summary: 'Pack a box with the safest animals that are free on these days; fewer are told of',
    permission: 'sale:write',
    body: z
      .strictObject({
        ...packing,
        species: z
          .string()
          .trim()
          .max(80)
          .optional()
          .meta({ description: 'id or slug; all by turns where left out' }),
        devices: z.number().int().min(1).max(MOST_PARTS).default(1),
        languages: z.array(z.enum(LANGUAGES)).min(1, 'Choose at least one language.').max(LANGUAGES.length),
      })
      .refine(({ packOn, returnOn }) => returnOn >= packOn, {
        path: ['returnOn'],
        message: 'Not before it is packed.',
      })
      .refine(({ packOn, returnOn }) => daysBetween(packOn, returnOn) <= MOST_DAYS, {
        path: ['returnOn'],
        message: `At most ${MOST_DAYS} days.`,
      }),
    answer: boxWithWarnings,
  }),
  pack: describeApi({
    id: 'recordBoxItem',
    method: 'post',
    path: '/show-boxes/{id}/items',
    tag,
    summary:
      'Put something of the stock into a part. It leaves the stock when a receipt of it arrives; If-Match with the version',
    permission: 'sale:write',
    params: boxParams,
    body: z.strictObject({
      ...seen,
      part: z.number().int().min(1).max(9).default(1),
      line: orderedStockSchema,
    }),
    answer: boxWithWarnings,
  }),
  settle: describeApi({
    id: 'recordBoxHome',
    method: 'post',
    path: '/show-boxes/{id}/settlement',
    tag,
    summary:
      'Settle a box by the labels that came home and the things that were counted; If-Match with the version',
    permission: 'sale:write',
    params: boxParams,
    body: z.strictObject({
      ...seen,
      labels: z.array(z.string().trim().min(1).max(40)).max(MOST_BOXED).default([]),
      counts: z
        .array(
          z.strictObject({ item: z.number().int().positive(), home: z.number().int().min(0).max(10_000) }),
        )
        .max(200)
        .default([]),
    }),
    answer: z.strictObject({
      home: z.number().int(),
      sold: z.number().int(),
      missing: z.array(z.string()).meta({ description: 'labels' }),
      puzzles: z.array(z.strictObject({ label: z.string(), why: z.string() })),
      things: z.strictObject({
        missing: z.array(z.strictObject({ description: z.string(), count: z.number().int() })),
        over: z.array(z.strictObject({ description: z.string(), count: z.number().int() })),
      }),
    }),
  }),
}
