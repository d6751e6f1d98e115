import { z } from 'zod'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { minorAmount } from '@/lib/domain/money/money'
import { ORDER_STATES } from '@/lib/domain/order/state'
import { PAYMENT_KINDS } from '@/lib/domain/sale/payment'
import { arrivalSchema } from '@/lib/features/arrival/schema'
import { areaSchema, countrySchema } from '@/lib/features/dispatch/schema'
import { warningSchema } from '@/lib/features/individual/schema'
import {
  MOST_MINOR,
  moneyAnswer,
  ofOrder,
  orderPaymentAnswer,
  orderPaymentSchema,
  paymentReversalSchema,
  spokenPrice,
  type Unversioned,
  type Versioned,
} from '@/lib/features/order-payment/schema'
import {
  orderedStockSchema,
  orderStockAnswer,
  orderStockSchema,
  readStockItem,
  stockItemSchema,
} from '@/lib/features/order-stock/schema'
import { LANGUAGES } from '@/lib/messages/language'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const MOST_LINES = 12
const MOST_AWAY = 60
const countSchema = z.number('Enter a number.').int('Whole animals only.').min(1, 'At least one.').max(200)
const moultsSchema = z.number().int().min(0).max(14)
const noteSchema = z.string().trim().max(1000).default('')
const WAYS = ['sent', 'collected'] as const
const SEXES = ['male', 'female', 'any'] as const

const whereFields = {
  country: countrySchema,
  area: areaSchema.meta({ description: 'where the air at the buyer’s end is looked up, such as "DE 79"' }),
  transitDays: z
    .number()
    .int()
    .min(0)
    .max(4)
    .optional()
    .meta({ description: 'as in the rules where left out' }),
  isCollectedAtDepot: z.boolean().default(false),
  notBefore: plainDateSchema.optional(),
  awayOn: z.array(plainDateSchema).max(MOST_AWAY).default([]).meta({ description: 'nobody is in there' }),
  isForBeginner: z.boolean().default(false),
  language: z.enum(LANGUAGES).optional(),
  note: noteSchema,
  buyer: z.uuid().optional(),
}

const addressFields = {
  name: z.string().trim().max(120).default(''),
  address: z.string().trim().max(400).default(''),
  phone: z.string().trim().max(60).default(''),
}
const recipientSchema = z
  .strictObject(addressFields)
  .meta({ description: 'kept only until it is needed no longer; not on the audit trail' })

const lineFields = {
  species: z.string().trim().min(1, 'Choose the species.').max(80),
  sex: z.enum(SEXES).default('any'),
  count: countSchema,
}

const newLineSchema = z
  .strictObject({
    ...lineFields,
    takes: z.enum(['nymph', 'adult', 'either']).default('either'),
    fromMoults: moultsSchema.default(0).meta({ description: 'moults since hatch' }),
    untilMoults: moultsSchema.optional(),
    price: z
      .number()
      .int()
      .min(0)
      .max(MOST_MINOR)
      .default(0)
      .meta({ description: 'each, in the smallest coin' }),
  })
  .refine(({ fromMoults, untilMoults }) => untilMoults === undefined || untilMoults >= fromMoults, {
    path: ['untilMoults'],
    message: 'Not before the first stage.',
  })

const NOTHING_ORDERED = 'At least one animal or one thing of the stock.'

export const newOrderSchema = z
  .strictObject({
    way: z.enum(WAYS).default('sent'),
    orderedOn: plainDateSchema.optional().meta({ description: 'today where left out' }),
    ...whereFields,
    paidOn: plainDateSchema
      .optional()
      .meta({ description: 'paid whole on that day, in a way that is not said' }),
    recipient: recipientSchema.optional(),
    lines: z.array(newLineSchema).max(MOST_LINES).default([]),
    stock: z
      .array(orderedStockSchema)
      .max(MOST_LINES)
      .default([])
      .meta({ description: 'egg cases, cultures, containers, live food in packs, anything in words' }),
    payments: z.array(orderPaymentSchema).max(5).default([]).meta({ description: 'recorded, not processed' }),
    individuals: z
      .array(z.uuid())
      .max(200)
      .default([])
      .meta({ description: 'animals that are chosen already; each fills a place of the first line it fits' }),
  })
  .refine(({ lines, stock }) => lines.length + stock.length > 0, {
    path: ['lines'],
    message: NOTHING_ORDERED,
  })
export type NewOrder = z.output<typeof newOrderSchema>

/** The same as the form sends it: stages by one choice, prices as they are spoken. */
export const orderFormSchema = z
  .strictObject({
    way: z.enum(WAYS),
    ...whereFields,
    // An untouched field of a form is empty, not missing.
    notBefore: z.union([z.literal(''), plainDateSchema]).optional(),
    buyer: z.union([z.literal(''), z.uuid()]).optional(),
    ...addressFields,
    lines: z
      .array(
        z.strictObject({
          ...lineFields,
          stage: z.union([z.enum(['any', 'adult']), z.string().regex(/^\d{1,2}$/)]),
          price: spokenPrice,
        }),
      )
      .max(MOST_LINES)
      .default([]),
    stock: z.array(stockItemSchema).max(MOST_LINES).default([]),
    awayFrom: z.union([z.literal(''), plainDateSchema]).optional(),
    awayUntil: z.union([z.literal(''), plainDateSchema]).optional(),
    paidKind: z.union([z.literal(''), z.enum(PAYMENT_KINDS)]).optional(),
    paidAmount: spokenPrice.optional(),
    paidOn: z.union([z.literal(''), plainDateSchema]).optional(),
  })
  .refine(({ lines, stock }) => lines.length + stock.length > 0, {
    path: ['lines'],
    message: NOTHING_ORDERED,
  })
  .refine(({ awayFrom, awayUntil }) => !awayUntil || Boolean(awayFrom), {
    path: ['awayFrom'],
    message: 'Say from when on.',
  })
  .refine(({ awayFrom, awayUntil }) => !awayFrom || !awayUntil || awayUntil >= awayFrom, {
    path: ['awayUntil'],
    message: 'Not before the first day.',
  })
  .refine(({ awayFrom, awayUntil }) => listAway(awayFrom, awayUntil).length <= MOST_AWAY, {
    path: ['awayUntil'],
    message: `At most ${MOST_AWAY} days.`,
  })
  .refine(({ paidKind, paidAmount }) => Boolean(paidKind) || paidAmount === undefined, {
    path: ['paidKind'],
    message: 'Choose how it was paid.',
  })
export type OrderForm = z.output<typeof orderFormSchema>

export function readOrderForm(typed: OrderForm, { currency }: { currency: string }): NewOrder {
  const {
    name,
    address,
    phone,
    lines,
    stock,
    notBefore,
    buyer,
    paidKind,
    paidAmount,
    paidOn,
    awayFrom,
    awayUntil,
    ...rest
  } = typed
  const amount = paidAmount ? minorAmount(paidAmount, currency) : undefined
  return {
    ...rest,
    awayOn: [...new Set([...rest.awayOn, ...listAway(awayFrom, awayUntil)])].sort(),
    buyer: buyer || undefined,
    notBefore: notBefore || undefined,
    recipient: { name, address, phone },
    individuals: [],
    stock: stock.map((line) => readStockItem(line, { currency })),
    payments: paidKind ? [{ kind: paidKind, on: paidOn || undefined, amount, note: '' }] : [],
    lines: lines.map(({ stage, price, ...line }) => ({
      ...line,
      ...readStage(stage),
      price: minorAmount(price, currency),
    })),
  }
}

/** Every day from the first to the last, at most one more than may be said; one day where no last is named. */
function listAway(from: string | undefined, until: string | undefined): string[] {
  if (!from) return []
  const days = Math.max(0, Math.min(MOST_AWAY, daysBetween(from, until || from)))
  return Array.from({ length: days + 1 }, (_, index) => addDays(from, index))
}

function readStage(stage: string): Pick<NewOrder['lines'][number], 'takes' | 'fromMoults' | 'untilMoults'> {
  if (stage === 'any') return { takes: 'either', fromMoults: 0 }
  if (stage === 'adult') return { takes: 'adult', fromMoults: 0 }
  return { takes: 'nymph', fromMoults: Number(stage), untilMoults: Number(stage) }
}

/** Who goes for which line. Whoever was chosen before and is not named is let go. */
export const chooseAnimalsSchema = z.strictObject({
  animals: z.array(z.strictObject({ line: z.number().int().positive(), individual: z.uuid() })).max(200),
})
export const chooseAnimalsFormSchema = chooseAnimalsSchema.extend(ofOrder)
export type ChooseAnimals = z.output<typeof chooseAnimalsFormSchema>

/** Packed and sent, or handed over: the order becomes a sale. */
export const leavingSchema = z.strictObject({
  on: plainDateSchema,
  carrier: z.string().trim().max(80).default(''),
  note: z.string().trim().max(500).default(''),
  payments: z
    .array(orderPaymentSchema)
    .max(5)
    .default([])
    .meta({ description: 'paid with it, as at a collection; recorded, not processed' }),
})
export type Leaving = Unversioned<z.output<typeof leavingSchema> & Versioned>

/** The form asks only how the rest was paid. */
export const leavingFormSchema = leavingSchema
  .omit({ payments: true })
  .extend({ ...ofOrder, restBy: z.union([z.literal(''), z.enum(PAYMENT_KINDS)]).optional() })

export function readLeavingForm({ restBy, ...typed }: z.output<typeof leavingFormSchema>): Leaving {
  return { ...typed, payments: restBy ? [{ kind: restBy, on: typed.on, note: '' }] : [] }
}

export const splitFormSchema = z.strictObject({ ...ofOrder, staying: z.array(z.uuid()).min(1).max(200) })
export type Split = z.output<typeof splitFormSchema>

export const cancelSchema = z.strictObject({ reason: z.string().trim().min(1, 'Say why.').max(300) })
export const cancelFormSchema = cancelSchema.extend(ofOrder)
export type Cancelling = z.output<typeof cancelFormSchema>

const orderAnswer = z
  .strictObject({
    id: z.string(),
    number: z.number().int(),
    version: z.number().int(),
    way: z.enum(WAYS),
    state: z.enum(ORDER_STATES),
    orderedOn: z.string(),
    paidOn: z.string().nullable().meta({ description: 'the day since which nothing is owed' }),
    leftOn: z.string().nullable(),
    arrivedOn: z.string().nullable(),
    cancelledOn: z.string().nullable(),
    sale: z.string().nullable(),
    country: z.string(),
    area: z.string(),
    transitDays: z.number().int(),
    note: z.string(),
    lines: z.array(
      z.strictObject({
        number: z.number().int(),
        words: z.string(),
        species: z.string(),
        sex: z.enum(SEXES),
        count: z.number().int(),
        price: moneyAnswer,
        individuals: z.array(
          z.strictObject({
            id: z.string(),
            label: z.string(),
            arrived: z.enum(['alive', 'hurt', 'dead']).nullable(),
          }),
        ),
      }),
    ),
    stock: z.array(orderStockAnswer),
    payments: z.array(orderPaymentAnswer),
    total: moneyAnswer.meta({ description: 'less what was waived and what came back' }),
    owed: moneyAnswer,
  })
  .meta({ id: 'Order' })
export type OrderAnswer = z.input<typeof orderAnswer>

const withWarnings = orderAnswer.extend({ warnings: z.array(warningSchema) })
const params = z.strictObject({ id: z.uuid() })
const paymentParams = params.extend({ payment: z.coerce.number().int().positive() })
const tag = 'Orders'
const write = { method: 'post', tag, permission: 'order:write', answer: withWarnings } as const

export const orderApi = {
  list: describeApi({
    id: 'listOrders',
    method: 'get',
    path: '/orders',
    tag,
    summary: 'Orders, newest first, without what is known of the person',
    permission: 'order:read',
    query: pageQuery.extend({ state: z.enum(['open', 'left', 'cancelled']).optional() }),
    answer: listAnswer(orderAnswer),
  }),
  load: describeApi({
    id: 'loadOrder',
    method: 'get',
    path: '/orders/{id}',
    tag,
    summary: 'One order',
    permission: 'order:read',
    params,
    answer: orderAnswer,
  }),
  create: describeApi({
    ...write,
    id: 'createOrder',
    path: '/orders',
    summary: 'Take an order. Lines are descriptions; animals are chosen on packing day, or named at once',
    body: newOrderSchema,
  }),
  choose: describeApi({
    ...write,
    id: 'chooseAnimals',
    path: '/orders/{id}/animals',
    summary: 'Choose the animals of an order. One animal is in one order at a time',
    params,
    body: chooseAnimalsSchema,
  }),
  leave: describeApi({
    ...write,
    id: 'recordOrderLeft',
    path: '/orders/{id}/departure',
    summary:
      'Packed and sent, or handed over: the order becomes a sale. What speaks against it is answered as warnings',
    params,
    body: leavingSchema,
  }),
  changeStock: describeApi({
    ...write,
    id: 'updateOrderStock',
    path: '/orders/{id}/stock',
    summary:
      'Put things of the stock on an open order, or take them off. They leave the stock when the order leaves',
    params,
    body: orderStockSchema,
  }),
  pay: describeApi({
    ...write,
    id: 'createOrderPayment',
    path: '/orders/{id}/payments',
    summary: 'What was paid for an order, whole or in part, before or after it left. Recorded, not processed',
    params,
    body: orderPaymentSchema,
  }),
  payBack: describeApi({
    ...write,
    id: 'reverseOrderPayment',
    path: '/orders/{id}/payments/{payment}/reversal',
    summary: 'Money of a payment that went back, whole or in part',
    params: paymentParams,
    body: paymentReversalSchema,
  }),
  arrive: describeApi({
    ...write,
    id: 'recordArrival',
    path: '/orders/{id}/arrival',
    summary: 'How it arrived, animal by animal',
    params,
    body: arrivalSchema,
  }),
  cancel: describeApi({
    ...write,
    id: 'cancelOrder',
    path: '/orders/{id}/cancellation',
    summary: 'Take an order back before it has left: its animals are free again',
    params,
    body: cancelSchema,
  }),
}
