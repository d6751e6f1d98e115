import { z } from 'zod'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const version = z.number().int().positive()

export const createWishSchema = z.strictObject({
  buyer: z.uuid('Choose one.'),
  species: z.uuid('Choose one.'),
  sex: z.enum(['male', 'female']).optional(),
  /** the number of the instar as the workspace counts, `adult`, or any where left out */
  stage: z.string().max(10).optional(),
  count: z
    .number('Enter a number.')
    .int('Enter a whole number.')
    .min(1, 'At least one.')
    .max(500, 'At most 500.'),
  by: plainDateSchema,
})
export type CreateWish = z.output<typeof createWishSchema>

export const endWishSchema = z.strictObject({ id: z.uuid(), version, as: z.enum(['filled', 'withdrawn']) })
export type EndWish = z.output<typeof endWishSchema>
