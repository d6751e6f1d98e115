import { z } from 'zod'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const countSchema = z.number().int().min(1).max(2000)

/** An egg case of the workspace, or one that nobody has bought yet. */
export const hatchCheckSchema = z
  .strictObject({
    eggCase: z.uuid().optional(),
    species: z.string().min(1).max(120).optional(),
    zone: z.uuid('Choose one.').optional(),
    laidOn: plainDateSchema.optional(),
    receivedOn: plainDateSchema.optional().meta({ description: 'it was laid in the weeks before' }),
    nymphs: countSchema.optional().meta({ description: 'instead of what the care profile expects' }),
  })
  .refine(({ eggCase, species }) => (eggCase === undefined) !== (species === undefined), {
    path: ['species'],
    message: 'Name an egg case that is here, or a species, not both.',
  })
  .refine(({ eggCase, zone }) => eggCase !== undefined || zone !== undefined, {
    path: ['zone'],
    message: 'Say where it would hang.',
  })
  .refine(({ laidOn, receivedOn }) => laidOn === undefined || receivedOn === undefined, {
    path: ['receivedOn'],
    message: 'Give the day it was laid or the day it comes here, not both.',
  })
export type HatchCheckQuestion = z.output<typeof hatchCheckSchema>

const weekAnswer = z.strictObject({
  week: z.string(),
  living: z.number(),
  partingMinutes: z.number(),
  feedingMinutes: z.number(),
  minutes: z.number().meta({ description: 'for the bench, by the recorded hours' }),
  spokenMinutes: z.number().meta({ description: 'of them for clutches and egg cases that are here' }),
  containers: z.number(),
  freeContainers: z.number().meta({ description: 'free or ordered by then' }),
  spokenContainers: z.number(),
  isShortOfHours: z.boolean(),
  isShortOfContainers: z.boolean(),
  food: z.array(
    z.strictObject({
      line: z.string(),
      items: z.number(),
      cultures: z.number().nullable(),
      packs: z.number().nullable(),
    }),
  ),
  cost: z.strictObject({ amount: z.number().int(), currency: z.string() }).nullable().meta({
    description: 'of the food alone; null for a role that sees no costs',
  }),
})

export const hatchCheckAnswer = z.strictObject({
  verdict: z.enum(['all', 'some', 'none']),
  sentence: z.string(),
  hatchOn: z.string(),
  hatchWindow: z.strictObject({ p10: z.string(), p50: z.string(), p90: z.string() }),
  chance: z.number(),
  nymphs: z.strictObject({ low: z.number(), typical: z.number(), high: z.number() }),
  dueOn: z.string().nullable().meta({ description: 'the last day on which all may stand together' }),
  raise: z.number().int(),
  earlyLots: z.number().int(),
  limit: z.enum(['hours', 'containers']).nullable(),
  betterDay: z.strictObject({ on: z.string(), raise: z.number().int() }).nullable(),
  move: z
    .strictObject({ zone: z.string(), on: z.string(), hatchOn: z.string() })
    .nullable()
    .meta({ description: 'where to hang it from which day so that it hatches about the better day' }),
  weeks: z.array(weekAnswer),
})
export type HatchCheckAnswer = z.input<typeof hatchCheckAnswer>

export const hatchCheckApi = {
  create: describeApi({
    id: 'checkHatch',
    method: 'post',
    path: '/hatch-checks',
    tag: 'Egg cases',
    summary: 'Can this hatch be taken: hours, containers and food by week, how many to raise, a better day',
    permission: 'egg-case:read',
    body: hatchCheckSchema,
    answer: hatchCheckAnswer,
  }),
}
