import { z } from 'zod'
import { type FoodCase, MOST_WEEKS } from '@/lib/domain/food-plan/case'
import { checkFoodCase } from '@/lib/domain/food-plan/case-check'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const LARGEST = 1_000_000_000
const amount = z.number().min(0, 'Not below nothing.').max(LARGEST)
const share = z.number().min(0, 'Not below nothing.').max(1, '1 at most.')
const days = z.number().int('Enter whole days.').min(0, 'Not below nothing.').max(400, '400 days at most.')
const name = z.string().min(1, 'Fill this in.').max(120)
const weekdays = z.array(z.number().int().min(1).max(7)).min(1, 'Name a weekday, 1 for Monday.').max(7)

const lineBasics = {
  id: name,
  name: name.optional(),
  dailyDeathRate: share.optional(),
  wasteCost: amount.optional().meta({ description: 'of one item had and not eaten; 1 unless given' }),
}

const cultureLine = z.strictObject({
  ...lineBasics,
  kind: z.literal('culture'),
  yield: z.strictObject({
    mean: z
      .number()
      .max(LARGEST)
      .meta({ description: 'of cultures that do not crash; a crash gives a tenth' }),
    cv: z.number().min(0, 'Not below nothing.').max(5),
    crashChance: share,
  }),
  curve: z
    .array(share)
    .min(1, 'Give the share of the yield for each day, day 0 first.')
    .max(400)
    .meta({ description: 'share of the yield that emerges on each day after the start, day 0 first' }),
  delayCv: z.number().min(0, 'Not below nothing.').max(1).optional(),
  starters: amount.default(0),
  startCost: amount.default(0),
  starterCost: amount
    .optional()
    .meta({ description: 'buys the starters of one culture when stock has none' }),
  discardAfterDays: z.number().int('Enter whole days.').min(1, 'One day at least.').max(400),
  minimumBatches: z.number().int().min(0, 'Not below nothing.').max(20).optional(),
  minutesPerStart: z.number().min(0, 'Not below nothing.').max(1440).optional(),
})

const boughtLine = z.strictObject({
  ...lineBasics,
  kind: z.literal('bought'),
  packSize: z.number().positive('A pack holds more than nothing.').max(LARGEST),
  packCost: amount,
  leadDays: days,
  keepDays: z.number().min(1, 'One day at least.').max(400),
  curve: z.array(share).min(1).max(400).optional(),
  orderWeekdays: weekdays.optional(),
})

const foodClass = z.strictObject({
  id: name,
  name: name.optional(),
  shortageCost: amount.meta({ description: 'of one animal that goes without for one day' }),
  accepts: z
    .array(
      z.strictObject({
        line: name,
        itemsPerAnimalDay: z.number().positive('More than nothing.').max(LARGEST),
      }),
    )
    .max(50)
    .meta({ description: 'first choice first' }),
})

const culture = z.strictObject({
  id: name.optional(),
  line: name,
  startedOn: plainDateSchema,
  count: z.number().int().min(1, 'One at least.').max(1000).optional(),
  harvested: z
    .array(z.strictObject({ on: plainDateSchema, count: amount }))
    .max(400)
    .optional(),
  hasCrashed: z.boolean().optional(),
  isSuspect: z.boolean().optional(),
  until: plainDateSchema.optional(),
  uncountedSince: plainDateSchema.optional().meta({
    description:
      'what came from this day on is in it still and stands in no stock; else all is accounted for',
  }),
  curve: z
    .array(share)
    .min(1)
    .max(400)
    .optional()
    .meta({ description: 'its own, where it stood cooler or warmer than others of its line' }),
  yieldShare: z
    .number()
    .min(0, 'Not below nothing.')
    .max(10, '10 at most.')
    .optional()
    .meta({ description: 'of what a usual one gives, where it was made too full or too thin' }),
  discardAfterDays: z.number().int('Enter whole days.').min(1, 'One day at least.').max(400).optional(),
})

const hatch = z.strictObject({
  id: name,
  on: plainDateSchema,
  sdDays: z.number().min(0, 'Not below nothing.').max(200).optional(),
  count: amount,
  cv: z.number().min(0, 'Not below nothing.').max(5).optional(),
  chance: share.optional(),
  needsByAgeDays: z
    .array(z.strictObject({ class: name, fromDay: days, animals: amount }))
    .max(2000)
    .meta({ description: 'animals per hatchling in a class from that day of age on' }),
})

const limits = z.strictObject({
  shelfPlaces: z.number().int().min(0, 'Not below nothing.').max(1_000_000).optional(),
  startsPerWeek: z.number().int().min(0, 'Not below nothing.').max(1_000_000).optional(),
  minutesPerStartDay: z.number().min(0, 'Not below nothing.').max(1440).optional(),
  startWeekdays: weekdays.optional(),
  closedDays: z.array(plainDateSchema).max(400).optional(),
  supplierClosedDays: z.array(plainDateSchema).max(400).optional(),
})

/** Everything a plan rests on, posted instead of recorded. */
export const postedCaseSchema = z.strictObject({
  lines: z.array(cultureLine.or(boughtLine)).min(1, 'Name at least one line of prey.').max(40),
  classes: z.array(foodClass).min(1, 'Name at least one class of animals.').max(100),
  demand: z
    .array(z.strictObject({ class: name, on: plainDateSchema, animals: amount, sd: amount.optional() }))
    .max(40_000),
  stock: z
    .array(z.strictObject({ line: name, count: amount, until: plainDateSchema.optional() }))
    .max(1000)
    .optional(),
  cultures: z.array(culture).max(3000).optional(),
  deliveries: z
    .array(z.strictObject({ line: name, on: plainDateSchema, count: amount }))
    .max(1000)
    .optional(),
  hatches: z.array(hatch).max(500).optional(),
  limits: limits.optional(),
})

export const newFoodPlanSchema = z
  .strictObject({
    from: plainDateSchema,
    weeks: z
      .number()
      .int('Enter whole weeks.')
      .min(1, 'One week at least.')
      .max(MOST_WEEKS, `${MOST_WEEKS} weeks at most.`),
    serviceLevel: z
      .number()
      .min(0.5, '0.5 at least.')
      .max(0.999, '0.999 at most.')
      .optional()
      .meta({ description: 'chance per class and week that nobody goes short; 0.95 unless given' }),
    shelfPlaces: z.number().int().min(0, 'Not below nothing.').max(5000).optional().meta({
      description: 'of the workspace’s own records; for a case, see its limits',
    }),
    startDays: weekdays.optional().meta({ description: 'weekdays on which jars are started, 1 for Monday' }),
    case: postedCaseSchema
      .optional()
      .meta({ description: 'planned instead of the workspace’s records, and nothing else' }),
  })
  .superRefine((plan, context) => {
    const { case: posted } = plan
    if (!posted) return
    for (const { path, message } of checkFoodCase(readPostedCase({ ...plan, case: posted })))
      context.addIssue({ code: 'custom', path: ['case', ...path.split('.')], message })
  })
export type NewFoodPlan = z.output<typeof newFoodPlanSchema>

/** What the screen asks for: the plan of the room as it is, or with one thing otherwise. */
export const askFoodPlanSchema = z.strictObject({
  weeks: z.number().int().min(1).max(MOST_WEEKS),
  shelfPlaces: z
    .number('Enter a number.')
    .int('Enter a whole number.')
    .min(0, 'Not below nothing.')
    .max(5000, 'At most 5000.')
    .optional(),
  servicePercent: z
    .number('Enter a percentage.')
    .min(50, 'At least 50 %.')
    .max(99.9, 'At most 99.9 %.')
    .optional(),
  hatch: z
    .string()
    .max(60)
    .regex(/^$|^(less|more):.+$/, 'Choose one.')
    .default(''),
})
export type AskFoodPlan = z.output<typeof askFoodPlanSchema>

type PostedPlan = {
  case: z.output<typeof postedCaseSchema>
  from: string
  weeks: number
  serviceLevel?: number
}

/** A posted case as the plan takes it. */
export function readPostedCase(plan: PostedPlan): FoodCase {
  const { case: posted, from, weeks, serviceLevel } = plan
  return { ...posted, from, weeks, serviceLevel }
}

export const foodPlanAnswer = z
  .strictObject({
    status: z.enum(['optimal', 'feasible', 'timed-out']).meta({
      description:
        'optimal: proven within a hundredth; feasible: see gap; timed-out: the best within the time limit',
    }),
    gap: z.number().nullable().meta({
      description: 'share of the cost by which a better plan could be cheaper at most; null: nothing proven',
    }),
    cost: z.number().nullable().meta({
      description:
        'expected, in minor units, shortage and waste included; null for the records of the workspace where the role sees no costs',
    }),
    weeks: z.array(
      z.strictObject({
        week: z.number().int(),
        from: z.iso.date(),
        starts: z.array(z.strictObject({ line: z.string(), count: z.number().int(), on: z.iso.date() })),
        purchases: z.array(
          z.strictObject({
            line: z.string(),
            packs: z.number().int(),
            orderOn: z.iso.date(),
            arrivesOn: z.iso.date(),
          }),
        ),
        discards: z.array(
          z.strictObject({
            line: z.string(),
            count: z.number().int(),
            on: z.iso.date(),
            startedOn: z.iso.date(),
          }),
        ),
        expectedSurplus: z.array(z.strictObject({ line: z.string(), count: z.number() })),
        expectedShortage: z.array(
          z.strictObject({ class: z.string(), animalDays: z.number(), chanceMet: z.number() }),
        ),
        reasons: z.array(z.string()),
      }),
    ),
    notes: z.array(z.string()).meta({ description: 'what the plan cannot do and the cheapest way out' }),
  })
  .meta({ id: 'FoodPlan' })

export const foodPlanApi = {
  create: describeApi({
    id: 'createFoodPlan',
    method: 'post',
    path: '/food-plans',
    tag: 'Live food',
    summary: 'What live food to start and buy week by week, of the workspace or of a posted case',
    permission: 'live-food:read',
    body: newFoodPlanSchema,
    answer: foodPlanAnswer,
  }),
}
