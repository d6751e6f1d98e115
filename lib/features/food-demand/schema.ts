import { z } from 'zod'
import { describeApi } from '@/lib/platform/api/operation'
import { asOfSchema, plainDateSchema } from '@/lib/platform/plain-date-schema'

export const foodDemandQuery = z.strictObject({
  from: plainDateSchema.optional(),
  weeks: z.coerce.number().int().min(1).max(26).default(8),
  asOf: asOfSchema,
})
export type FoodDemandQuery = z.output<typeof foodDemandQuery>

const foodDemandAnswer = z
  .strictObject({
    from: z.iso.date(),
    weeks: z.array(
      z.strictObject({
        week: z.iso.date().meta({ description: 'its first day' }),
        until: z.iso.date(),
        items: z.array(
          z.strictObject({
            prey: z.string(),
            name: z.string(),
            mean: z.number().meta({ description: 'items, by the first choice of each stage' }),
            sd: z.number(),
            p10: z.number(),
            p90: z.number(),
            byStage: z.array(
              z.strictObject({
                stage: z.string(),
                animals: z.number().meta({ description: 'a day, on average' }),
                items: z.number(),
              }),
            ),
          }),
        ),
      }),
    ),
    unfed: z
      .array(z.strictObject({ species: z.string(), stage: z.string(), animals: z.number() }))
      .meta({ description: 'stages that none of the lines kept here feeds' }),
    leftOut: z.strictObject({ animals: z.number(), eggCases: z.array(z.string()) }),
  })
  .meta({ id: 'FoodDemand' })
export type FoodDemandAnswer = z.input<typeof foodDemandAnswer>

export const foodDemandApi = {
  get: describeApi({
    id: 'getFoodDemand',
    method: 'get',
    path: '/food-demand',
    tag: 'Live food',
    summary: 'What live food the room will want, per week and prey class, with spread',
    permission: 'live-food:read',
    query: foodDemandQuery,
    answer: foodDemandAnswer,
  }),
}
