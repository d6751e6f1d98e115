import { z } from 'zod'
import { MOST_TRANSIT_DAYS } from '@/lib/domain/dispatch/journey'
import { isCountryCode } from '@/lib/domain/place/country'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const celsius = z.number('Enter degrees Celsius.').min(-60, 'Not below −60 °C.').max(60, 'Not above 60 °C.')
const noteSchema = z.string().trim().max(120).default('')

export const countrySchema = z
  .string()
  .trim()
  .toUpperCase()
  .refine((text) => text === '' || isCountryCode(text), 'Two letters, such as DE.')
  .default('')

/** Letters and figures with single spaces, so that "de 79" and "DE  79" are one area. */
export const areaSchema = z
  .string()
  .trim()
  .toUpperCase()
  .max(12, 'A country and the first figures of the post code, such as DE 79.')
  .regex(
    /^([A-Z]{2}( ?[A-Z0-9]{1,8})?)?$/,
    'A country and the first figures of the post code, such as DE 79.',
  )
  .transform((text) => (text.length > 2 ? `${text.slice(0, 2)} ${text.slice(2).trim()}` : text))
  .default('')

export const updateRulesSchema = z
  .strictObject({
    version: z.number().int().min(0),
    weekdays: z.array(z.boolean()).length(7),
    transitDays: z.number('Enter a number of days.').int().min(0).max(MOST_TRANSIT_DAYS),
    claimHours: z.number('Enter a number of hours.').int().min(1).max(240),
    keepAddressDays: z.number('Enter a number of days.').int().min(0).max(400),
    area: areaSchema,
  })
  .refine(({ weekdays }) => weekdays.includes(true), { path: ['weekdays'], message: 'At least one day.' })
export type UpdateRules = z.output<typeof updateRulesSchema>

export const closedForSendingSchema = z
  .strictObject({
    country: countrySchema,
    on: plainDateSchema,
    until: z.union([z.literal(''), plainDateSchema]).optional(),
    isClosed: z.boolean().default(true),
    note: noteSchema,
  })
  .refine(({ on, until }) => !until || until >= on, { path: ['until'], message: 'Not before the first day.' })
export type ClosedForSending = z.output<typeof closedForSendingSchema>

export const recordAirSchema = z
  .strictObject({ area: areaSchema, on: plainDateSchema, lowC: celsius, highC: celsius })
  .refine(({ area }) => area !== '', { path: ['area'], message: 'Say which area, such as DE 79.' })
  .refine(({ lowC, highC }) => highC >= lowC, { path: ['highC'], message: 'Not below the lowest.' })
export type RecordAir = z.output<typeof recordAirSchema>

const airDay = z
  .strictObject({ end: z.enum(['here', 'there']), on: plainDateSchema, lowC: celsius, highC: celsius })
  .refine(({ lowC, highC }) => highC >= lowC, { path: ['highC'], message: 'Not below lowC.' })

const postedAnimal = z.strictObject({
  label: z.string().trim().min(1).max(60),
  species: z.string().trim().min(1).max(80).meta({ description: 'id or slug of one with a care profile' }),
  sex: z.enum(['male', 'female', 'unsexed']).default('unsexed'),
  moults: z.number().int().min(0).max(14).meta({ description: 'since the hatch' }),
  isAdult: z.boolean().default(false),
  lastMoultOn: plainDateSchema.meta({ description: 'or the hatch, before the first moult' }),
  temperatureC: celsius.default(26).meta({ description: 'where it stands' }),
  lastFedOn: plainDateSchema.optional(),
  lastRefusedOn: plainDateSchema.optional(),
  quarantineUntil: plainDateSchema.optional(),
})

const dispatchCase = z.strictObject({
  animals: z.array(postedAnimal).min(1, 'At least one animal.').max(100),
  isForBeginner: z.boolean().default(false),
  transitDays: z.number().int().min(0).max(MOST_TRANSIT_DAYS).default(1),
  weekdays: z
    .array(z.number().int().min(1).max(7))
    .min(1)
    .max(7)
    .default([1, 2, 3])
    .meta({ description: 'ISO' }),
  isCollectedAtDepot: z.boolean().default(false),
  closedDays: z
    .array(z.strictObject({ end: z.enum(['here', 'there']), on: plainDateSchema, note: noteSchema }))
    .max(400)
    .default([]),
  air: z
    .array(airDay)
    .max(400)
    .default([])
    .meta({ description: 'lowest and highest, night and depot included' }),
})
export type DispatchCase = z.output<typeof dispatchCase>

export const dispatchCheckSchema = z
  .strictObject({
    order: z.uuid().optional(),
    case: dispatchCase.optional(),
    days: z
      .number()
      .int()
      .min(1)
      .max(60)
      .default(42)
      .meta({ description: 'packing days looked at, from today on' }),
  })
  .refine((asked) => (asked.order === undefined) !== (asked.case === undefined), {
    path: ['order'],
    message: 'Name an order, or post a case.',
  })
export type DispatchCheck = z.output<typeof dispatchCheckSchema>

const stretch = z.strictObject({ from: z.string(), until: z.string() })
const dispatchAnswer = z
  .strictObject({
    sentence: z.string(),
    days: z.array(
      z.strictObject({
        packOn: z.string(),
        arriveOn: z.string(),
        leastChance: z.number().meta({ description: 'of the animal that is least sure to be fit' }),
        packing: z.enum(['plain', 'heat-pack', 'insulated', 'cool-pack', 'hold']).nullable(),
        isAirKnown: z.boolean(),
        animals: z.array(
          z.strictObject({
            line: z.number().int(),
            animal: z.string(),
            chance: z.number(),
            isChosen: z.boolean(),
          }),
        ),
        duties: z.array(z.string()),
      }),
    ),
    heldUp: z.array(
      z.strictObject({
        by: z.enum(['animal', 'line', 'closed-day', 'box']),
        animal: z.string().nullable(),
        line: z.number().int().nullable(),
        code: z.string().nullable(),
        stretches: z.array(stretch),
        message: z.string(),
      }),
    ),
    waysOut: z.array(z.string()),
    lookedUntil: z.string(),
  })
  .meta({ id: 'DispatchAnswer' })
export type DispatchCheckAnswer = z.input<typeof dispatchAnswer>

export const dispatchApi = {
  check: describeApi({
    id: 'checkDispatch',
    method: 'post',
    path: '/dispatch-checks',
    tag: 'Orders',
    summary: 'The first safe dispatch days of an order, or of a posted case, and what blocks the others',
    permission: 'order:read',
    body: dispatchCheckSchema,
    answer: dispatchAnswer,
  }),
}
