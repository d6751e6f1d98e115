import { z } from 'zod'
import { describeApi } from '@/lib/platform/api/operation'
import { asOfSchema, plainDateSchema } from '@/lib/platform/plain-date-schema'

export const MINUTES_A_DAY = 24 * 60
export const LONGEST_PLAN_DAYS = 56

const minutes = z
  .number('Enter minutes.')
  .int('Enter whole minutes.')
  .min(0, 'Not below nothing.')
  .max(MINUTES_A_DAY, 'A day has 1440 minutes.')
const count = z.number().int().min(0).max(100_000)

/** The hours of a usual week, Monday first. `version` is 0 until they are saved for the first time. */
export const updateBenchHoursSchema = z.strictObject({
  version: z.number().int().min(0),
  minutesByWeekday: z.array(minutes).length(7, 'Seven days, Monday first.'),
})
export type UpdateBenchHours = z.output<typeof updateBenchHoursSchema>

/** One day that is unlike its weekday; without minutes it is as usual again. */
export const recordBenchDaySchema = z.strictObject({
  on: plainDateSchema,
  minutes: minutes.optional(),
  note: z.string().trim().max(200, 'At most 200 letters.').default(''),
})
export type RecordBenchDay = z.output<typeof recordBenchDaySchema>

export const newSeparationPlanSchema = z
  .strictObject({
    from: plainDateSchema,
    days: z.number().int().min(1).max(LONGEST_PLAN_DAYS),
    minutesPerDay: z
      .array(z.strictObject({ on: plainDateSchema, minutes: z.number().min(0).max(MINUTES_A_DAY) }))
      .max(400)
      .optional()
      .meta({
        description:
          'minutes for parting; a day that is not named has none. Left out: the hours of the workspace',
      }),
    containers: z
      .array(
        z.strictObject({
          kind: z.uuid(),
          free: count,
          ordered: z
            .array(z.strictObject({ on: plainDateSchema, count }))
            .max(200)
            .default([]),
        }),
      )
      .max(200)
      .optional()
      .meta({ description: 'these and no others; left out: what is recorded as free and on order' }),
  })
  .refine(({ minutesPerDay }) => isNamedOnce(minutesPerDay?.map(({ on }) => on)), {
    path: ['minutesPerDay'],
    message: 'Name each day once.',
  })
  .refine(({ containers }) => isNamedOnce(containers?.map(({ kind }) => kind)), {
    path: ['containers'],
    message: 'Name each kind once.',
  })
export type NewSeparationPlan = z.output<typeof newSeparationPlanSchema>

function isNamedOnce(names: readonly string[] | undefined): boolean {
  return names === undefined || new Set(names).size === names.length
}

export const separationPlanAnswer = z
  .strictObject({
    status: z
      .enum(['optimal', 'timed-out'])
      .meta({ description: 'timed-out: the best plan found within the time limit' }),
    expectedLosses: z.number().meta({ description: 'animals, over the days planned and the week after' }),
    days: z.array(
      z.strictObject({
        on: z.iso.date(),
        moves: z.array(
          z.strictObject({ clutch: z.string(), count: z.number().int(), containerKind: z.string() }),
        ),
      }),
    ),
    missed: z.array(z.strictObject({ clutch: z.string(), count: z.number().int(), cost: z.number() })).meta({
      description: 'clutches still together when they should be apart: how many, and the animals it costs',
    }),
    helps: z
      .array(z.strictObject({ what: z.string(), saves: z.number() }))
      .meta({ description: 'what would save most animals, each from a plan made anew with it' }),
  })
  .meta({ id: 'SeparationPlan' })
export type SeparationPlanAnswer = z.input<typeof separationPlanAnswer>

export const separationPlanApi = {
  create: describeApi({
    id: 'createSeparationPlan',
    method: 'post',
    path: '/separation-plans',
    tag: 'Clutches',
    summary:
      'Which siblings to part on which day, under the hours and containers there are, so that fewest are lost',
    permission: 'clutch:read',
    query: z.strictObject({ asOf: asOfSchema }),
    body: newSeparationPlanSchema,
    answer: separationPlanAnswer,
  }),
}

const slidersSchema = z.strictObject({
  minutesByWeekday: z.array(z.coerce.number().int().min(0).max(MINUTES_A_DAY)).length(7),
  free: z.record(z.uuid(), z.coerce.number().int().min(0).max(100_000)),
})
export type Sliders = z.output<typeof slidersSchema>

/** How the sliders stand, as they are written into an address. */
export function writeSliders({ minutesByWeekday, free }: Sliders): string {
  const query = new URLSearchParams({ hours: minutesByWeekday.join('-') })
  for (const [kind, number] of Object.entries(free)) query.append('free', `${kind}_${number}`)
  return query.toString()
}

/** The same read back; null where it is none of ours. */
export function readSliders(query: URLSearchParams): Sliders | null {
  const free = query.getAll('free').map((pair) => pair.split('_'))
  const read = slidersSchema.safeParse({
    minutesByWeekday: (query.get('hours') ?? '').split('-'),
    free: Object.fromEntries(free),
  })
  return read.success ? read.data : null
}
