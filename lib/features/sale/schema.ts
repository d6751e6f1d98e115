import { z } from 'zod'
import { minorAmount } from '@/lib/domain/money/money'
import { PAYMENT_KINDS, type PaidPart } from '@/lib/domain/sale/payment'
import { warningSchema } from '@/lib/features/individual/schema'
import { type CopiedPaper, maybePaperSchema, papersSchema, readMaybePaper } from '@/lib/features/paper/schema'
import { SALE_LINE_KINDS, STOCK_SHAPES, type StockSubject } from '@/lib/features/stock-line/schema'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'
import type { Warning } from '@/lib/platform/warned'

const MOST_MINOR = 100_000_000
const amountSchema = z.number().int('Enter a whole number of the smallest coin.').min(0).max(MOST_MINOR)
export const moneySchema = z.strictObject({ amount: amountSchema, currency: z.string().length(3) })
const reasonSchema = z.string().trim().max(300).default('')
const noteSchema = z.string().trim().max(500).default('')
const certifiedSchema = z.string().trim().max(80, 'At most 80 letters.').default('')
const percent = z.number('Enter a per cent.').min(0, 'Not below nothing.').max(100, 'At most 100 %.')

const priced = {
  price: moneySchema
    .optional()
    .meta({ description: 'for one piece, as prices are here: with tax or without' }),
  discount: moneySchema.optional().meta({ description: 'off the whole line' }),
  taxPercent: percent.optional().meta({ description: 'as set for its kind where left out' }),
  overrideReason: reasonSchema,
}
const stockSchema = z.discriminatedUnion('kind', [
  z.strictObject({ ...STOCK_SHAPES.lot, ...priced }),
  z.strictObject({ ...STOCK_SHAPES.egg_case, ...priced }),
  z.strictObject({ ...STOCK_SHAPES.culture, ...priced }),
  z.strictObject({ ...STOCK_SHAPES.container, ...priced }),
  z.strictObject({ ...STOCK_SHAPES.pack, ...priced }),
  z.strictObject({ ...STOCK_SHAPES.other, ...priced }),
])

const NOTHING_SOLD = 'At least one animal or one thing of the stock.'

/** What a till sends. Lines say what was paid; an animal without a line was paid nothing for. */
export const newSaleSchema = z
  .strictObject({
    on: plainDateSchema.optional().meta({ description: 'today where left out' }),
    individuals: z.array(z.uuid()).max(200, 'At most 200 at once.').default([]),
    lines: z
      .array(z.strictObject({ individual: z.uuid(), ...priced }))
      .max(200)
      .default([]),
    stock: z
      .array(stockSchema)
      .max(100, 'At most 100 at once.')
      .default([])
      .meta({ description: 'lots, egg cases, cultures, containers, live food in packs, anything else' }),
    discount: moneySchema.optional().meta({ description: 'off the whole, shared over the lines' }),
    payments: z
      .array(
        z.strictObject({
          kind: z.enum(PAYMENT_KINDS),
          amount: moneySchema.optional().meta({ description: 'all that is open where left out' }),
        }),
      )
      .max(5)
      .default([])
      .meta({ description: 'recorded, not processed; only cash may be more than is due' }),
    certifiedNumber: certifiedSchema.meta({ description: 'of the receipt of a certified till' }),
    note: noteSchema,
    buyer: z.uuid().optional().meta({ description: 'in whose name the receipt is written' }),
    papers: papersSchema.meta({ description: 'permits and proofs that went with the whole of it' }),
  })
  .refine(({ individuals, stock }) => individuals.length + stock.length > 0, {
    path: ['individuals'],
    message: NOTHING_SOLD,
  })
export type NewSaleRequest = z.output<typeof newSaleSchema>

const spoken = z
  .number('Enter a price.')
  .min(0, 'Not below nothing.')
  .max(MOST_MINOR / 100)
export const spokenParts = {
  price: spoken,
  discount: spoken.optional(),
  // A choice of a form is a text.
  taxPercent: z.coerce.number('Enter a per cent.').min(0).max(100).optional(),
  overrideReason: reasonSchema,
}

const counterLineSchema = z
  .strictObject({
    individual: z.uuid(),
    ...spokenParts,
    /** true where the check says that it should stay */
    isAdvisedAgainst: z.boolean().default(false),
    /** true where whoever sells may not let it leave: the screen says so before the service would */
    isKeptBack: z
      .boolean()
      .default(false)
      .refine((isKept) => !isKept, 'It is kept back: take it off, or have it let go first.'),
  })
  .refine(({ isAdvisedAgainst, overrideReason }) => !isAdvisedAgainst || overrideReason !== '', {
    path: ['overrideReason'],
    message: 'Say why it leaves all the same.',
  })

const counterStockSchema = z.discriminatedUnion('kind', [
  z.strictObject({ ...STOCK_SHAPES.lot, ...spokenParts }),
  z.strictObject({ ...STOCK_SHAPES.egg_case, ...spokenParts }),
  z.strictObject({ ...STOCK_SHAPES.culture, ...spokenParts }),
  z.strictObject({ ...STOCK_SHAPES.container, ...spokenParts }),
  z.strictObject({ ...STOCK_SHAPES.pack, ...spokenParts }),
  z.strictObject({ ...STOCK_SHAPES.other, ...spokenParts }),
])

/** A way of paying that nobody chose is none. */
const counterPaymentSchema = z
  .strictObject({ kind: z.enum(PAYMENT_KINDS).optional(), amount: spoken.optional() })
  .refine(({ kind, amount }) => kind !== undefined || amount === undefined, {
    path: ['kind'],
    message: 'Choose how it was paid.',
  })

/** The same as the counter sends it: one line per animal or thing, prices as they are spoken. */
export const counterSaleShape = z.strictObject({
  lines: z.array(counterLineSchema).max(50).default([]),
  stock: z.array(counterStockSchema).max(50).default([]),
  discount: spoken.optional(),
  payments: z.array(counterPaymentSchema).max(5).default([]),
  certifiedNumber: certifiedSchema,
  note: noteSchema,
  buyer: z.uuid().optional(),
  paper: maybePaperSchema,
})
export const counterSaleSchema = counterSaleShape.refine(
  ({ lines, stock }) => lines.length + stock.length > 0,
  { path: ['lines'], message: NOTHING_SOLD },
)
export type CounterSale = z.output<typeof counterSaleSchema>

/** `at` is where it stands in what was sent, so that a mistake is said there. A rate left out is the one set for its kind. */
export type LineTerms = {
  unitPriceMinor: number
  discountMinor: number
  taxBasisPoints: number | null
  overrideReason: string
  at: string
  /** what is known against it besides what is found */
  told?: Warning[]
}
export type NewSaleLine = AnimalLine | (LineTerms & StockSubject)
/** `against`: what a device at a show was told of it when the receipt was written */
export type AnimalLine = LineTerms & { kind: 'animal'; individual: string; against?: string[] }
export type StockSaleLine = LineTerms & StockSubject
export type NewSale = {
  on: string
  lines: NewSaleLine[]
  discountMinor: number
  payments: PaidPart[]
  certifiedNumber: string
  note: string
  buyer: string | null
  /** that went with it */
  papers?: CopiedPaper[]
  /** number of the order that becomes this sale */
  order?: number
  /** a box that is on its way: what spoke against it is kept, and takes nothing back */
  hasLeft?: boolean
  /** a receipt that a device has written already: its series, its number there, and the terms it was printed with */
  written?: WrittenReceipt
}
export type WrittenReceipt = { series: string; number: number; currency: string; pricesIncludeTax: boolean }

export function isAnimalLine(line: NewSaleLine): line is AnimalLine {
  return line.kind === 'animal'
}
export function isStockSaleLine(line: NewSaleLine): line is StockSaleLine {
  return line.kind !== 'animal'
}

const saleAnswer = z
  .strictObject({
    id: z.string(),
    series: z.string().meta({ description: 'of a device at a show; empty at the counter' }),
    receiptNumber: z.number().int().meta({ description: 'without a gap in its series' }),
    on: z.string(),
    total: moneySchema,
    taxIncluded: z.boolean().meta({ description: 'whether the prices of the lines have their tax in them' }),
    certifiedNumber: z.string(),
    note: z.string(),
    buyer: z.string().nullable().meta({ description: 'id of the buyer it names' }),
    lines: z.array(
      z.strictObject({
        number: z.number().int(),
        kind: z.enum(SALE_LINE_KINDS),
        individual: z.string().nullable(),
        label: z.string().nullable(),
        description: z.string(),
        quantity: z.number().int(),
        lot: z
          .strictObject({ males: z.number().int(), females: z.number().int(), unsexed: z.number().int() })
          .nullable(),
        unitPrice: moneySchema,
        discount: moneySchema.meta({ description: 'own, and its share of that on the whole' }),
        price: moneySchema.meta({ description: 'of the line, less discounts' }),
        taxPercent: z.number(),
        tax: moneySchema,
        returned: z.number().int().meta({ description: 'how many came back' }),
        overrideReason: z.string(),
        warnings: z.array(warningSchema),
      }),
    ),
    taxes: z.array(
      z.strictObject({ percent: z.number(), net: moneySchema, tax: moneySchema, gross: moneySchema }),
    ),
    payments: z.array(
      z.strictObject({
        kind: z.enum(PAYMENT_KINDS),
        on: z.string(),
        amount: moneySchema,
        given: moneySchema.nullable(),
      }),
    ),
    refunds: z
      .array(z.strictObject({ kind: z.enum(PAYMENT_KINDS), on: z.string(), amount: moneySchema }))
      .meta({ description: 'of what was paid for an order, money that went back' }),
    owed: moneySchema
      .nullable()
      .meta({ description: 'of an order for which something was paid: what is still to be paid' }),
    returns: z.array(
      z.strictObject({
        id: z.string(),
        returnNumber: z.number().int(),
        on: z.string(),
        reason: z.string(),
        refund: moneySchema,
        refundKind: z.enum(PAYMENT_KINDS).nullable(),
      }),
    ),
    reversal: z.strictObject({ on: z.string(), reason: z.string() }).nullable(),
  })
  .meta({ id: 'Sale' })
export type SaleAnswer = z.input<typeof saleAnswer>

export const saleWithWarnings = saleAnswer.extend({ warnings: z.array(warningSchema) })
export const saleParams = z.strictObject({ id: z.uuid() })
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
    summary: 'Sell animals and stock. Recorded also against the leave-today check, with its warnings',
    permission: 'sale:write',
    body: newSaleSchema,
    answer: saleWithWarnings,
  }),
}

/** The counter's sale in the smallest coin. */
export function readCounterSale(typed: CounterSale, workspace: { today: string; currency: string }): NewSale {
  const { today, currency } = workspace
  const minor = (amount: number | undefined) => (amount === undefined ? 0 : minorAmount(amount, currency))
  const termsOf = (line: CounterSale['lines'][number] | CounterSale['stock'][number], at: string) => ({
    unitPriceMinor: minor(line.price),
    discountMinor: minor(line.discount),
    taxBasisPoints: basisPoints(line.taxPercent),
    overrideReason: line.overrideReason,
    at,
  })
  return {
    on: today,
    note: typed.note,
    buyer: typed.buyer ?? null,
    certifiedNumber: typed.certifiedNumber,
    papers: readMaybePaper(typed.paper),
    discountMinor: minor(typed.discount),
    payments: typed.payments.flatMap(({ kind, amount }) =>
      kind ? [{ kind, minor: amount === undefined ? null : minor(amount) }] : [],
    ),
    lines: [
      ...typed.lines.map((line, index) => ({
        kind: 'animal' as const,
        individual: line.individual,
        ...termsOf(line, `lines.${index}.price`),
      })),
      ...typed.stock.map((line, index) => ({
        ...subjectOf(line),
        ...termsOf(line, `stock.${index}.price`),
      })),
    ],
  }
}

export function basisPoints(percentage: number | undefined): number | null {
  return percentage === undefined ? null : Math.round(percentage * 100)
}

/** What of a line says which stock it is. */
export function subjectOf(line: StockSubject): StockSubject {
  switch (line.kind) {
    case 'lot': {
      const { kind, clutch, males, females, unsexed } = line
      return { kind, clutch, males, females, unsexed }
    }
    case 'egg_case':
      return { kind: line.kind, eggCase: line.eggCase }
    case 'culture':
      return { kind: line.kind, culture: line.culture }
    case 'container':
      return { kind: line.kind, containerKind: line.containerKind, quantity: line.quantity }
    case 'pack': {
      const { kind, line: slug, quantity, items } = line
      return { kind, line: slug, quantity, items }
    }
    case 'other':
      return { kind: line.kind, description: line.description, quantity: line.quantity }
  }
}
