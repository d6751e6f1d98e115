import { z } from 'zod'
import { PAYMENT_KINDS } from '@/lib/domain/sale/payment'
import { placeFields, warningSchema } from '@/lib/features/individual/schema'
import { moneySchema, saleParams, saleWithWarnings } from '@/lib/features/sale/schema'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const back = {
  on: plainDateSchema,
  reason: z.string().trim().min(1, 'Say why.').max(300),
  refundKind: z.enum(PAYMENT_KINDS).optional().meta({ description: 'how the money went back' }),
}

/** A whole receipt; animals that come home need a place. */
export const reversalSchema = z.strictObject({
  ...back,
  containerKind: placeFields.containerKind.optional(),
  zone: placeFields.zone.optional(),
})
export const reversalFormSchema = reversalSchema.extend({ sale: z.uuid() })
export type Reversal = z.output<typeof reversalFormSchema>

const pieces = z
  .number('Enter a number.')
  .int('Enter a whole number.')
  .min(0, 'Not below nothing.')
  .max(10_000)

export const saleReturnSchema = z.strictObject({
  ...reversalSchema.shape,
  lines: z
    .array(z.strictObject({ number: z.number().int().positive(), quantity: pieces }))
    .min(1, 'Say what came back.')
    .max(300),
})
export const saleReturnFormSchema = saleReturnSchema.extend({ sale: z.uuid() })
export type SaleReturnInput = z.output<typeof saleReturnFormSchema>

const returnAnswer = z
  .strictObject({
    id: z.string(),
    sale: z.string(),
    returnNumber: z.number().int(),
    refund: moneySchema,
    warnings: z.array(warningSchema),
  })
  .meta({ id: 'SaleReturn' })

const tag = 'Sales'

export const saleReturnApi = {
  create: describeApi({
    id: 'createSaleReturn',
    method: 'post',
    path: '/sales/{id}/returns',
    tag,
    summary: 'Take some of a sale back, under a gapless number of its own',
    permission: 'sale:write',
    params: saleParams,
    body: saleReturnSchema,
    answer: returnAnswer,
  }),
  reverse: describeApi({
    id: 'reverseSale',
    method: 'post',
    path: '/sales/{id}/reversal',
    tag,
    summary: 'Take a whole sale back: its animals are here again, each in a container',
    permission: 'sale:write',
    params: saleParams,
    body: reversalSchema,
    answer: saleWithWarnings,
  }),
}
