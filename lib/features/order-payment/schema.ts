import { z } from 'zod'
import { minorAmount } from '@/lib/domain/money/money'
import { PAYMENT_KINDS } from '@/lib/domain/sale/payment'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

export const MOST_MINOR = 100_000_000
export const spokenPrice = z
  .number('Enter a price.')
  .min(0, 'Not below nothing.')
  .max(MOST_MINOR / 100)

export const ofOrder = { order: z.uuid(), version: z.number().int().positive() }
export type Versioned = { order: string; version: number }
/** A form always says which version it saw; a call of the API may. */
export type Unversioned<T extends { version: number }> = Omit<T, 'version'> & { version?: number }

/** What was paid: recorded, not processed. */
export const orderPaymentSchema = z.strictObject({
  kind: z.enum(PAYMENT_KINDS),
  amount: z
    .number()
    .int()
    .min(1, 'More than nothing.')
    .max(MOST_MINOR)
    .optional()
    .meta({ description: 'in the smallest coin; all that is owed where left out' }),
  on: plainDateSchema.optional().meta({ description: 'today where left out' }),
  note: z.string().trim().max(200).default(''),
})
export type OrderPaying = z.output<typeof orderPaymentSchema>

export const paymentFormSchema = z.strictObject({
  ...ofOrder,
  kind: z.enum(PAYMENT_KINDS, 'Choose how it was paid.'),
  amount: spokenPrice.optional(),
  on: plainDateSchema,
  note: z.string().trim().max(200).default(''),
})
export type PayingOrder = Unversioned<OrderPaying & Versioned>
export function readPaymentForm(
  { amount, ...typed }: z.output<typeof paymentFormSchema>,
  { currency }: { currency: string },
): PayingOrder {
  return { ...typed, amount: amount ? minorAmount(amount, currency) : undefined }
}

/** Money that went back: it reverses a payment, whole or in part. */
export const paymentReversalSchema = z.strictObject({
  kind: z.enum(PAYMENT_KINDS).optional().meta({ description: 'as it was paid where left out' }),
  amount: z
    .number()
    .int()
    .min(1, 'More than nothing.')
    .max(MOST_MINOR)
    .optional()
    .meta({ description: 'in the smallest coin; all of the payment that is left where left out' }),
  on: plainDateSchema.optional().meta({ description: 'today where left out' }),
  isWaived: z
    .boolean()
    .default(false)
    .meta({ description: 'so much less is owed, as for a loss on the way' }),
  reason: z.string().trim().min(1, 'Say why.').max(200),
})
export type PaymentReversal = Unversioned<z.output<typeof paymentReversalSchema> & Versioned> & {
  payment: number
}
export const paymentReversalFormSchema = paymentReversalSchema.extend({
  ...ofOrder,
  payment: z.number().int().positive(),
  kind: z.enum(PAYMENT_KINDS, 'Choose how it went back.'),
  amount: spokenPrice.optional(),
})
export function readReversalForm(
  { amount, ...typed }: z.output<typeof paymentReversalFormSchema>,
  { currency }: { currency: string },
): PaymentReversal {
  return { ...typed, amount: amount ? minorAmount(amount, currency) : undefined }
}

export const moneyAnswer = z.strictObject({ amount: z.number().int(), currency: z.string() })
export const orderPaymentAnswer = z.strictObject({
  number: z.number().int(),
  kind: z.enum(PAYMENT_KINDS),
  on: z.string(),
  amount: moneyAnswer,
  returned: moneyAnswer.meta({ description: 'how much of it went back' }),
  reverses: z.number().int().nullable().meta({ description: 'the payment that went back with this entry' }),
  isWaived: z.boolean(),
  note: z.string(),
})
