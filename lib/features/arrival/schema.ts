import { z } from 'zod'
import { ofOrder } from '@/lib/features/order-payment/schema'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const noteSchema = z.string().trim().max(1000).default('')
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
