import { z } from 'zod'
import { minorAmount } from '@/lib/domain/money/money'
import { ORDER_STATES } from '@/lib/domain/order/state'
import { isCountryCode } from '@/lib/domain/place/country'
import { warningSchema } from '@/lib/features/individual/schema'
import { LANGUAGES } from '@/lib/messages/language'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const MOST_MINOR = 100_000_000
const MOST_LINES = 12
const countSchema = z.number('Enter a number.').int('Whole animals only.').min(1, 'At least one.').max(200)
const moultsSchema = z.number().int().min(0).max(14)
const noteSchema = z.string().trim().max(1000).default('')
const WAYS = ['sent', 'collected'] as const
const SEXES = ['male', 'female', 'any'] as const

export const countrySchema = z
  .string()
  .trim()
  .toUpperCase()
  .refine((text) => text === '' || isCountryCode(text), 'Two letters, such as DE.')
  .default('')

/** Letters and figures with single spaces, so that "de 79" and "DE  79" are one area. */
export const areaSchema = z
  .string()
  .trim()
  .toUpperCase()
  .max(12, 'A country and the first figures of the post code, such as DE 79.')
  .regex(
    /^([A-Z]{2}( ?[A-Z0-9]{1,8})?)?$/,
    'A country and the first figures of the post code, such as DE 79.',
  )
  .transform((text) => (text.length > 2 ? `${text.slice(0, 2)} ${text.slice(2).trim()}` : text))
  .default('')

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
  awayOn: z.array(plainDateSchema).max(60).default([]).meta({ description: 'nobody is in there' }),
  isForBeginner: z.boolean().default(false),
  language: z.enum(LANGUAGES).optional(),
  paidOn: plainDateSchema.optional(),
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

export const newOrderSchema = z.strictObject({
  way: z.enum(WAYS).default('sent'),
  orderedOn: plainDateSchema.optional().meta({ description: 'today where left out' }),
  ...whereFields,
  recipient: recipientSchema.optional(),
  lines: z.array(newLineSchema).min(1, 'At least one line.').max(MOST_LINES),
  individuals: z
    .array(z.uuid())
    .max(200)
    .default([])
    .meta({ description: 'animals that are chosen already; each fills a place of the first line it fits' }),
})
export type NewOrder = z.output<typeof newOrderSchema>

/** The same as the form sends it: stages by one choice, prices as they are spoken. */
export const orderFormSchema = z.strictObject({
  way: z.enum(WAYS),
  ...whereFields,
  // An untouched field of a form is empty, not missing.
  notBefore: z.union([z.literal(''), plainDateSchema]).optional(),
  paidOn: z.union([z.literal(''), plainDateSchema]).optional(),
  buyer: z.union([z.literal(''), z.uuid()]).optional(),
  ...addressFields,
  lines: z
    .array(
      z.strictObject({
        ...lineFields,
        stage: z.union([z.enum(['any', 'adult']), z.string().regex(/^\d{1,2}$/)]),
        price: z
          .number('Enter a price.')
          .min(0, 'Not below nothing.')
          .max(MOST_MINOR / 100),
      }),
    )
    .min(1, 'At least one line.')
    .max(MOST_LINES),
})
export type OrderForm = z.output<typeof orderFormSchema>

export function readOrderForm(typed: OrderForm, { currency }: { currency: string }): NewOrder {
  const { name, address, phone, lines, notBefore, paidOn, buyer, ...rest } = typed
  return {
    ...rest,
    buyer: buyer || undefined,
    notBefore: notBefore || undefined,
    paidOn: paidOn || undefined,
    recipient: { name, address, phone },
    individuals: [],
    lines: lines.map(({ stage, price, ...line }) => ({
      ...line,
      ...readStage(stage),
      price: minorAmount(price, currency),
    })),
  }
}

function readStage(stage: string): Pick<NewOrder['lines'][number], 'takes' | 'fromMoults' | 'untilMoults'> {
  if (stage === 'any') return { takes: 'either', fromMoults: 0 }
  if (stage === 'adult') return { takes: 'adult', fromMoults: 0 }
  return { takes: 'nymph', fromMoults: Number(stage), untilMoults: Number(stage) }
}

const ofOrder = { order: z.uuid(), version: z.number().int().positive() }

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
})
export const leavingFormSchema = leavingSchema.extend(ofOrder)
export type Leaving = z.output<typeof leavingFormSchema>

const timeSchema = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'Enter a time, such as 09:30.')
export const arrivalSchema = z.strictObject({
  on: plainDateSchema,
  at: timeSchema.default('12:00').meta({ description: 'by the clock of the workspace' }),
  reportedOn: plainDateSchema.optional().meta({ description: 'the day of the arrival where left out' }),
  reportedAt: timeSchema.optional(),
  animals: z
    .array(z.strictObject({ individual: z.uuid(), as: z.enum(['alive', 'hurt', 'dead']) }))
    .max(200)
    .default([])
    .meta({ description: 'those who are not named arrived alive' }),
  photographs: z.number().int().min(0).max(100).default(0),
  note: noteSchema,
})
export const arrivalFormSchema = arrivalSchema.extend(ofOrder)
export type Arrival = z.output<typeof arrivalFormSchema>

export const claimEndFormSchema = z.strictObject({
  ...ofOrder,
  end: z.enum(['nothing', 'refund', 'replacement']),
  note: noteSchema,
})
export type ClaimEnding = z.output<typeof claimEndFormSchema>

export const splitFormSchema = z.strictObject({ ...ofOrder, staying: z.array(z.uuid()).min(1).max(200) })
export type Split = z.output<typeof splitFormSchema>

export const cancelSchema = z.strictObject({ reason: z.string().trim().min(1, 'Say why.').max(300) })
export const cancelFormSchema = cancelSchema.extend(ofOrder)
export type Cancelling = z.output<typeof cancelFormSchema>

export const paidFormSchema = z.strictObject({ ...ofOrder, on: plainDateSchema })
export type Paying = z.output<typeof paidFormSchema>

const orderAnswer = z
  .strictObject({
    id: z.string(),
    number: z.number().int(),
    version: z.number().int(),
    way: z.enum(WAYS),
    state: z.enum(ORDER_STATES),
    orderedOn: z.string(),
    paidOn: z.string().nullable(),
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
        price: z.strictObject({ amount: z.number().int(), currency: z.string() }),
        individuals: z.array(
          z.strictObject({
            id: z.string(),
            label: z.string(),
            arrived: z.enum(['alive', 'hurt', 'dead']).nullable(),
          }),
        ),
      }),
    ),
  })
  .meta({ id: 'Order' })
export type OrderAnswer = z.input<typeof orderAnswer>

const withWarnings = orderAnswer.extend({ warnings: z.array(warningSchema) })
const params = z.strictObject({ id: z.uuid() })
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
