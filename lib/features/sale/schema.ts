import { z } from 'zod'
import { minorAmount } from '@/lib/domain/money/money'
import { placeFields, warningSchema } from '@/lib/features/individual/schema'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const MOST_MINOR = 100_000_000
const amountSchema = z.number().int('Enter a whole number of the smallest coin.').min(0).max(MOST_MINOR)
const moneySchema = z.strictObject({ amount: amountSchema, currency: z.string().length(3) })
const reasonSchema = z.string().trim().max(300).default('')

/** What a till sends. Lines say what was paid; an animal without a line was paid nothing for. */
export const newSaleSchema = z.strictObject({
  on: plainDateSchema.optional().meta({ description: 'today where left out' }),
  individuals: z.array(z.uuid()).min(1, 'At least one animal.').max(200, 'At most 200 at once.'),
  lines: z
    .array(
      z.strictObject({ individual: z.uuid(), price: moneySchema.optional(), overrideReason: reasonSchema }),
    )
    .max(200)
    .default([]),
  note: z.string().trim().max(500).default(''),
  buyer: z.uuid().optional().meta({ description: 'in whose name the receipt is written' }),
})
export type NewSaleRequest = z.output<typeof newSaleSchema>

const counterLineSchema = z
  .strictObject({
    individual: z.uuid(),
    price: z
      .number('Enter a price.')
      .min(0, 'Not below nothing.')
      .max(MOST_MINOR / 100),
    /** true where the check says that it should stay */
    isAdvisedAgainst: z.boolean().default(false),
    overrideReason: reasonSchema,
  })
  .refine(({ isAdvisedAgainst, overrideReason }) => !isAdvisedAgainst || overrideReason !== '', {
    path: ['overrideReason'],
    message: 'Say why it leaves all the same.',
  })

/** The same as the counter sends it: one line per animal, prices as they are spoken. */
export const counterSaleSchema = z.strictObject({
  lines: z.array(counterLineSchema).min(1, 'At least one animal.').max(50),
  note: z.string().trim().max(500).default(''),
  buyer: z.uuid().optional(),
})
export type CounterSale = z.output<typeof counterSaleSchema>

/** `at` is where the animal stands in what was sent, so that a mistake is said there. */
export type NewSaleLine = { individual: string; priceMinor: number; overrideReason: string; at: string }
export type NewSale = { on: string; lines: NewSaleLine[]; note: string; buyer: string | null }

export const reversalSchema = z.strictObject({
  on: plainDateSchema,
  reason: z.string().trim().min(1, 'Say why.').max(300),
  ...placeFields,
})
export const reversalFormSchema = reversalSchema.extend({ sale: z.uuid() })
export type Reversal = z.output<typeof reversalFormSchema>

const saleAnswer = z
  .strictObject({
    id: z.string(),
    receiptNumber: z.number().int(),
    on: z.string(),
    total: moneySchema,
    note: z.string(),
    buyer: z.string().nullable().meta({ description: 'id of the buyer it names' }),
    lines: z.array(
      z.strictObject({
        individual: z.string(),
        label: z.string(),
        description: z.string(),
        price: moneySchema,
        overrideReason: z.string(),
        warnings: z.array(warningSchema),
      }),
    ),
    reversal: z.strictObject({ on: z.string(), reason: z.string() }).nullable(),
  })
  .meta({ id: 'Sale' })
export type SaleAnswer = z.input<typeof saleAnswer>

const withWarnings = saleAnswer.extend({ warnings: z.array(warningSchema) })
const saleParams = z.strictObject({ id: z.uuid() })
const tag = 'Sales'

export const saleApi = {
  list: describeApi({
    id: 'listSales',
    method: 'get',
    path: '/sales',
    tag,
    summary: 'Sales, newest receipt first',
    permission: 'sale:read',
    query: pageQuery.extend({
      // Sales are paged by their receipt numbers, not by ids.
      cursor: z
        .string()
        .regex(/^\d{1,9}$/, 'Give nextCursor back as it was.')
        .optional(),
      from: plainDateSchema.optional(),
      until: plainDateSchema.optional(),
    }),
    answer: listAnswer(saleAnswer),
  }),
  load: describeApi({
    id: 'loadSale',
    method: 'get',
    path: '/sales/{id}',
    tag,
    summary: 'One sale',
    permission: 'sale:read',
    params: saleParams,
    answer: saleAnswer,
  }),
  create: describeApi({
    id: 'createSale',
    method: 'post',
    path: '/sales',
    tag,
    summary: 'Sell animals. Recorded also against the leave-today check, with its warnings',
    permission: 'sale:write',
    body: newSaleSchema,
    answer: withWarnings,
  }),
  reverse: describeApi({
    id: 'reverseSale',
    method: 'post',
    path: '/sales/{id}/reversal',
    tag,
    summary: 'Take a sale back: its animals are here again, each in a container',
    permission: 'sale:write',
    params: saleParams,
    body: reversalSchema,
    answer: withWarnings,
  }),
}

/** The counter's sale in the smallest coin. */
export function readCounterSale(typed: CounterSale, workspace: { today: string; currency: string }): NewSale {
  const { today, currency } = workspace
  return {
    on: today,
    note: typed.note,
    buyer: typed.buyer ?? null,
    lines: typed.lines.map(({ individual, price, overrideReason }, index) => ({
      individual,
      priceMinor: minorAmount(price, currency),
      overrideReason,
      at: `lines.${index}.price`,
    })),
  }
}
