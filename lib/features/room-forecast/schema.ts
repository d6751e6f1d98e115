import { z } from 'zod'
import { describeApi } from '@/lib/platform/api/operation'
import { asOfSchema, plainDateSchema } from '@/lib/platform/plain-date-schema'

export const MOST_WEEKS = 52

export const roomForecastQuery = z.strictObject({
  from: plainDateSchema.optional().meta({ description: 'first day of the first week; today if left out' }),
  weeks: z.coerce.number().int().min(1).max(MOST_WEEKS).default(12),
  species: z.string().min(1).max(120).optional(),
  asOf: asOfSchema,
})
export type RoomForecastQuery = z.output<typeof roomForecastQuery>

const spreadShape = {
  animals: z.number().meta({ description: 'expected number, the mean over the days of the week' }),
  sd: z.number(),
  low: z.number().meta({ description: '10 %' }),
  high: z.number().meta({ description: '90 %' }),
}
const spreadAnswer = z.strictObject(spreadShape)

export const roomForecastAnswer = z.strictObject({
  from: z.string(),
  asOf: z.string(),
  weeks: z.array(
    z.strictObject({
      week: z.string().meta({ description: 'its first day' }),
      until: z.string(),
      living: spreadAnswer,
      ofSaleAge: spreadAnswer,
      items: z.array(
        z.strictObject({
          species: z.string(),
          speciesSlug: z.string(),
          scientificName: z.string(),
          sex: z.enum(['male', 'female', 'unsexed']),
          moults: z.number().int().nullable().meta({ description: 'moults since hatch; null for adults' }),
          instar: z.number().int().nullable().meta({ description: 'as the workspace counts' }),
          stage: z.string(),
          isAdult: z.boolean(),
          ...spreadShape,
        }),
      ),
    }),
  ),
  leftOut: z.strictObject({
    animals: z.number().int().meta({ description: 'without a care profile or a temperature' }),
    eggCases: z.array(z.string()).meta({ description: 'labels; without a window' }),
  }),
})
export type RoomForecastAnswer = z.input<typeof roomForecastAnswer>

export const roomForecastApi = {
  load: describeApi({
    id: 'loadRoomForecast',
    method: 'get',
    path: '/room-forecast',
    tag: 'Room',
    summary: 'Expected animals with their spread per species, sex, instar and week',
    permission: 'individual:read',
    query: roomForecastQuery,
    answer: roomForecastAnswer,
  }),
}
