import { z } from 'zod'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
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

const wishAnswer = z
  .strictObject({
    id: z.string(),
    buyer: z.string(),
    species: z.string(),
    scientificName: z.string(),
    sex: z.enum(['male', 'female', 'unsexed']).nullable().meta({ description: 'null for either' }),
    moults: z.number().int().nullable().meta({ description: 'since hatch; null for any stage, or adults' }),
    isAdult: z.boolean(),
    count: z.number().int(),
    by: plainDateSchema,
    outlook: z
      .strictObject({
        status: z.enum(['likely', 'possible', 'unlikely']),
        chance: z
          .number()
          .meta({ description: 'that so many are there on the day, earlier wishes served first' }),
        expected: z.number(),
      })
      .nullable()
      .meta({ description: 'from the room forecast' }),
    version,
  })
  .meta({ id: 'Wish' })
export type WishAnswer = z.input<typeof wishAnswer>

const tag = 'Sales'
export const wishApi = {
  list: describeApi({
    id: 'listWishes',
    method: 'get',
    path: '/wishes',
    tag,
    summary: 'Wishes that wait, the earliest made first, with the chance that the room can meet them',
    permission: 'reservation:read',
    query: z.strictObject({ buyer: z.uuid().optional() }),
    answer: listAnswer(wishAnswer),
  }),
  create: describeApi({
    id: 'createWish',
    method: 'post',
    path: '/wishes',
    tag,
    summary: 'Somebody waits for so many of a kind by a day',
    permission: 'reservation:write',
    body: createWishSchema.extend({
      species: z.string().trim().min(1).max(80).meta({ description: 'id or slug' }),
      stage: z.string().max(10).optional().meta({
        description: 'the number of the instar as it is counted here, `adult`, or any where left out',
      }),
    }),
    answer: wishAnswer,
  }),
  end: describeApi({
    id: 'endWish',
    method: 'post',
    path: '/wishes/{id}/closing',
    tag,
    summary: 'Met, or no longer wanted; If-Match with the version',
    permission: 'reservation:write',
    params: z.strictObject({ id: z.uuid() }),
    body: z.strictObject({
      as: z.enum(['filled', 'withdrawn']),
      version: version.optional().meta({ description: 'the version that was looked at, as If-Match' }),
    }),
    answer: z.strictObject({ id: z.string() }),
  }),
}
