import { z } from 'zod'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const taskAnswer = z
  .strictObject({
    kind: z.enum([
      'too-hot',
      'too-cold',
      'no-readings',
      'separation',
      'hatch',
      'doubtful-egg-case',
      'leave-alone',
      'overdue-moult',
      'start-cultures',
      'order-prey',
      'discard-cultures',
      'send-order',
      'hand-over-order',
      'wait-order',
    ]),
    state: z.enum(['late', 'due', 'leave-alone', 'fine']),
    title: z.string(),
    scientificName: z.string().nullable(),
    why: z.string(),
    clutch: z.string().nullable(),
    eggCase: z.string().nullable(),
    incident: z.string().nullable(),
    order: z.string().nullable(),
    individuals: z.array(z.string()),
    cultures: z.array(z.string()),
    prey: z
      .strictObject({ line: z.string(), count: z.number().int() })
      .nullable()
      .meta({ description: 'jars to start, or packs to order' }),
    /** animals that waiting until tomorrow is expected to cost */
    costPerDay: z.number(),
  })
  .meta({ id: 'DayTask' })

export const dayListApi = describeApi({
  id: 'loadToday',
  method: 'get',
  path: '/today',
  tag: 'Day sheet',
  summary: 'What the day asks for, most irreversible first',
  permission: 'day-sheet:read',
  query: z.strictObject({ on: plainDateSchema.optional(), asOf: plainDateSchema.optional() }),
  answer: z.strictObject({ on: z.string(), items: z.array(taskAnswer) }),
})
