import { z } from 'zod'
import { PAYMENT_KINDS } from '@/lib/domain/sale/payment'
import { counterSaleShape, spokenParts } from '@/lib/features/sale/schema'
import { STOCK_SHAPES } from '@/lib/features/stock-line/schema'
import { refuseUnknown } from '@/lib/platform/errors'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

/** The shape of what a device sends. It may be away for weeks, so older shapes stay understood. */
export const STALL_VERSION = 1
export const RECEIPTS_PER_SENDING = 20

const minor = z.number().int().min(0).max(100_000_000)
const basisPoints = z.number().int().min(0).max(10_000)
const text = (length: number) => z.string().trim().max(length, `At most ${length} letters.`)

const terms = { unitPriceMinor: minor, discountMinor: minor.default(0), taxBasisPoints: basisPoints }
const animalLine = z.strictObject({
  individual: z.uuid(),
  /** as it was printed */
  description: text(200),
  ...terms,
  overrideReason: text(300).default(''),
  /** what the device was told against its leaving that day */
  against: z.array(text(40)).max(20).optional(),
})
const otherLine = z.strictObject({
  description: text(120).min(1, 'Say what it is.'),
  quantity: z.number().int().min(1).max(10_000),
  ...terms,
})

/** So many of something of the stock that lies in the part, by its number in the box. */
const goodsLine = z.strictObject({
  item: z.number().int().positive(),
  /** as it was printed */
  description: text(200).min(1),
  quantity: z.number().int().min(1).max(10_000),
  ...terms,
})

/** In whose name it is written, where somebody wants that; it leaves the device with the receipt. */
const namedSchema = z.strictObject({
  name: text(120).min(1),
  address: text(500).default(''),
  keepConsent: z.boolean().default(false),
})

/** A receipt that a device has written: it is on paper already, so it is taken as it stands. */
export const stallReceiptSchema = z
  .strictObject({
    id: z.uuid(),
    workspaceId: z.uuid(),
    personId: z.uuid(),
    box: z.uuid(),
    part: z.number().int().min(1).max(9),
    /** `part` with its box: receipts of one series stand on top of each other */
    series: z.string().regex(/^[A-Z0-9]{2,8}$/),
    device: z.uuid(),
    number: z.number().int().min(1).max(1_000_000),
    on: plainDateSchema,
    writtenAt: z.iso.datetime({ offset: true }),
    currency: z.string().length(3),
    taxIncluded: z.boolean(),
    animals: z.array(animalLine).max(50),
    goods: z.array(goodsLine).max(50).default([]),
    others: z.array(otherLine).max(20).default([]),
    discountMinor: minor.default(0),
    payments: z
      .array(z.strictObject({ kind: z.enum(PAYMENT_KINDS), minor: minor.nullable() }))
      .max(5)
      .default([]),
    certifiedNumber: text(80).default(''),
    note: text(500).default(''),
    buyer: namedSchema.nullable().default(null),
    v: z.literal(STALL_VERSION),
  })
  .refine(({ animals, goods, others }) => animals.length + goods.length + others.length > 0, {
    path: ['animals'],
  })
export type StallReceipt = z.output<typeof stallReceiptSchema>
/** As the device keeps and sends it. */
export type StallReceiptSent = z.input<typeof stallReceiptSchema>

/** Each receipt is judged by itself: one that cannot be read does not hold up other series. */
export const stallBodySchema = z.strictObject({
  receipts: z.array(z.unknown()).min(1).max(RECEIPTS_PER_SENDING),
})

/** What is typed at the stall: the counter's form, with a name instead of a known buyer and things in words. */
const pieces = z.number('Enter a number.').int('Enter a whole number.').min(1, 'At least one.').max(10_000)
const packed = { item: z.number().int().positive(), quantity: pieces, ...spokenParts }
const stallStockSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('egg_case'), ...packed }),
  z.strictObject({ kind: z.literal('culture'), ...packed }),
  z.strictObject({ kind: z.literal('container'), ...packed }),
  z.strictObject({ kind: z.literal('pack'), ...packed }),
  z.strictObject({ ...STOCK_SHAPES.other, ...spokenParts }),
])
export type StallGoods = Exclude<z.output<typeof stallStockSchema>, { kind: 'other' }>

export const stallSaleSchema = counterSaleShape
  .omit({ buyer: true, paper: true, stock: true })
  .extend({
    stock: z.array(stallStockSchema).max(50).default([]),
    buyerName: text(120).default(''),
    buyerAddress: text(500).default(''),
    keepConsent: z.boolean().default(false),
  })
  .refine(({ lines, stock }) => lines.length + stock.length > 0, {
    path: ['lines'],
    message: 'Put at least one animal or thing on the counter.',
  })
  .refine(({ buyerName, buyerAddress }) => buyerName !== '' || buyerAddress === '', {
    path: ['buyerName'],
    message: 'Whose address is it?',
  })
export type StallSale = z.output<typeof stallSaleSchema>

/** A device that wants to sell from a part of a box, by an id that it made itself. */
export const takePartSchema = z.strictObject({
  workspaceId: z.uuid(),
  box: z.uuid(),
  part: z.number().int().min(1).max(9),
  device: z.uuid(),
})
export type TakePart = z.output<typeof takePartSchema>

/** Who is signed in on a device, and where they may sell. */
export type StallWho = {
  person: { id: string; name: string; email: string }
  workspaces: { id: string; slug: string; name: string; maySell: boolean }[]
}

export type StallAnimal = {
  id: string
  label: string
  description: string
  priceMinor: number | null
  /** not to be sold any more: sold elsewhere, dead, left out */
  gone: string | null
  /** what is said of it day by day, from packing to the return */
  advice: StallAdvice[]
}

/** Without the last three where a device keeps what an older service gave it. */
export type StallAdvice = {
  on: string
  may: boolean
  messages: string[]
  /** what speaks against it */
  codes?: string[]
  /** whom to ask; null where whoever sells may let it leave */
  whom?: string | null
  /** what whoever sells may override */
  open?: string[]
}

/** Something of the stock in the part: so many were packed, so many were on receipts when this was read. */
export type StallItem = {
  number: number
  kind: StallGoods['kind']
  description: string
  priceMinor: number
  packed: number
  sold: number
}

/** Everything a device needs to sell from its part without a connection. Nothing in it is of a buyer. */
export type StallPart = {
  workspace: { id: string; slug: string; name: string; contact: string; currency: string; timeZone: string }
  person: { id: string; name: string }
  box: { id: string; number: number; name: string; packOn: string; returnOn: string }
  part: { number: number; series: string; device: string; lastNumber: number }
  terms: {
    pricesIncludeTax: boolean
    receiptWords: string
    certifiedTill: boolean
    rates: { name: string; basisPoints: number; appliesTo: string[] }[]
  }
  animals: StallAnimal[]
  /** missing in a part that was opened before things could lie in one */
  items?: StallItem[]
}

/** @throws AppError not-found for what cannot be a part of a box */
export function readTakePart(body: unknown): TakePart {
  const read = takePartSchema.safeParse(body)
  if (!read.success) throw refuseUnknown('part of a show box')
  return read.data
}
