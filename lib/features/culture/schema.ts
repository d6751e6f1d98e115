import { z } from 'zod'
import { warningAnswer } from '@/lib/features/clutch/schema'
import { lineSlugSchema } from '@/lib/features/prey/schema'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const flies = z
  .number('Enter a number.')
  .int('Enter a whole number.')
  .min(0, 'Not below nothing.')
  .max(100_000, '100,000 at most.')

const CULTURE_FIELDS = {
  line: lineSlugSchema,
  startedOn: plainDateSchema,
  count: z
    .number('Enter a number.')
    .int('Enter a whole number.')
    .min(1, 'At least one.')
    .max(60, 'At most 60 at once.')
    .default(1)
    .meta({ description: 'as many alike, each with a label of its own' }),
  starters: z
    .number('Enter a number.')
    .int('Enter a whole number.')
    .min(1, 'At least one.')
    .max(5000, '5,000 at most.')
    .optional()
    .meta({ description: 'flies put into each; too many or too few give less' }),
  shelf: z.string().trim().max(40, 'At most 40 letters.').default(''),
  notes: z.string().trim().max(500, 'At most 500 letters.').default(''),
}

export const newCultureSchema = z
  .strictObject({
    ...CULTURE_FIELDS,
    zone: z.uuid().optional().meta({ description: 'left out: where the newest jar stands' }),
    startersFrom: z.uuid().optional().meta({ description: 'the culture its starters came from' }),
    bought: z.boolean().default(false).meta({ description: 'the starters were bought' }),
  })
  .refine(({ startersFrom, bought }) => !(startersFrom && bought), {
    path: ['startersFrom'],
    message: 'Either bought or from a jar, not both.',
  })
export type NewCulture = z.output<typeof newCultureSchema>

/** The screen asks where the starters come from as one choice: a jar, `bought`, or nothing said. */
export const cultureFormSchema = z.strictObject({
  ...CULTURE_FIELDS,
  zone: z.uuid('Choose a zone.').optional(),
  startersFrom: z.union([z.literal(''), z.literal('bought'), z.uuid()]).default(''),
})
export type CultureForm = z.output<typeof cultureFormSchema>

export function readNewCulture({ startersFrom, ...rest }: CultureForm): NewCulture {
  if (startersFrom === 'bought') return { ...rest, bought: true }
  return { ...rest, bought: false, ...(startersFrom === '' ? {} : { startersFrom }) }
}

const HARVEST_FIELDS = {
  on: plainDateSchema,
  measure: z.enum(['about', 'weighed', 'counted']).default('about'),
  low: flies.optional(),
  high: flies.optional(),
}

export const newHarvestSchema = z
  .strictObject({ count: flies, ...HARVEST_FIELDS })
  .refine(({ low, count }) => low === undefined || low <= count, {
    path: ['low'],
    message: 'This is more than the likely number.',
  })
  .refine(({ high, count }) => high === undefined || high >= count, {
    path: ['high'],
    message: 'This is less than the likely number.',
  })
export type NewHarvest = z.output<typeof newHarvestSchema>

/** As it is typed at the shelf: a number of flies, or their weight and what one weighs. */
export const harvestFormSchema = z
  .strictObject({
    culture: z.uuid(),
    on: plainDateSchema,
    measure: z.enum(['about', 'weighed', 'counted']),
    count: flies.optional(),
    low: flies.optional(),
    high: flies.optional(),
    weightMg: z.number('Enter a weight.').positive('More than nothing, please.').max(1_000_000).optional(),
    itemMg: z.number('Enter a weight.').positive('More than nothing, please.').max(10_000).optional(),
  })
  .refine(({ measure, count }) => measure === 'weighed' || count !== undefined, {
    path: ['count'],
    message: 'How many, about?',
  })
  .refine(({ measure, weightMg }) => measure !== 'weighed' || weightMg !== undefined, {
    path: ['weightMg'],
    message: 'What did they weigh?',
  })
  .refine(({ measure, itemMg }) => measure !== 'weighed' || itemMg !== undefined, {
    path: ['itemMg'],
    message: 'What does one weigh?',
  })
export type HarvestForm = z.output<typeof harvestFormSchema>

export function readNewHarvest({ culture: _, weightMg, itemMg, count, ...rest }: HarvestForm): NewHarvest {
  if (rest.measure === 'weighed' && weightMg && itemMg)
    return { on: rest.on, measure: 'weighed', count: Math.round(weightMg / itemMg) }
  return { ...rest, count: count ?? 0 }
}

export const archiveHarvestSchema = z.strictObject({
  harvest: z.uuid(),
  version: z.number().int().positive(),
})
export type ArchiveHarvest = z.output<typeof archiveHarvestSchema>

export const newDiscardSchema = z.strictObject({
  on: plainDateSchema,
  as: z.enum(['discarded', 'sold']).default('discarded'),
})
export type NewDiscard = z.output<typeof newDiscardSchema>
export const discardFormSchema = newDiscardSchema.extend({ culture: z.uuid() })

/** Those whose time is over, in one go. */
export const discardManySchema = z.strictObject({
  cultures: z.array(z.uuid()).min(1, 'Choose at least one.').max(500),
})
export type DiscardMany = z.output<typeof discardManySchema>

export const newMarkSchema = z.strictObject({
  mark: z.enum(['mites', 'mould', 'crash'], 'Choose one.'),
  on: plainDateSchema,
  isTakenBack: z.boolean().default(false).meta({ description: 'it was a mistake: the mark is taken off' }),
})
export type NewMark = z.output<typeof newMarkSchema>
export const markFormSchema = newMarkSchema.extend({ culture: z.uuid() })

export const updateCultureSchema = z.strictObject({
  culture: z.uuid(),
  version: z.number().int().positive(),
  zone: z.uuid('Choose a zone.'),
  movedOn: plainDateSchema.optional(),
  shelf: z.string().trim().max(40, 'At most 40 letters.').default(''),
  notes: z.string().trim().max(500, 'At most 500 letters.').default(''),
})
export type MoveCulture = z.output<typeof updateCultureSchema>

const harvestAnswer = z
  .strictObject({
    id: z.string(),
    on: z.iso.date(),
    count: z.number().int(),
    low: z.number().int().nullable(),
    high: z.number().int().nullable(),
    measure: z.enum(['about', 'weighed', 'counted']),
  })
  .meta({ id: 'Harvest' })

export const cultureAnswer = z
  .strictObject({
    id: z.string(),
    label: z.string(),
    line: z.string(),
    zone: z.string(),
    shelf: z.string(),
    startedOn: z.iso.date(),
    startersFrom: z.string().nullable(),
    bought: z.boolean(),
    starters: z
      .number()
      .int()
      .nullable()
      .meta({ description: 'flies put in; null where nobody counted them' }),
    moves: z
      .array(z.strictObject({ on: z.iso.date(), from: z.string(), to: z.string() }))
      .meta({ description: 'from one zone to another; cool slows the flies down' }),
    crashedOn: z.iso.date().nullable(),
    mitesOn: z.iso.date().nullable(),
    mouldOn: z.iso.date().nullable(),
    endedOn: z.iso.date().nullable(),
    end: z.enum(['discarded', 'sold']).nullable(),
    notes: z.string(),
    version: z.number().int(),
    isSuspect: z.boolean().meta({ description: 'fed out, never a source of starters' }),
    suspectUntil: z.iso.date().nullable(),
    expectedLeft: z
      .number()
      .nullable()
      .meta({ description: 'flies still to come before it is discarded; null once it is gone' }),
    uncounted: z
      .number()
      .nullable()
      .meta({ description: 'flies in it now that stand in no harvest and no count; null once it is gone' }),
    discardOn: z.iso.date().nullable(),
    harvests: z.array(harvestAnswer),
  })
  .meta({ id: 'Culture' })
export type CultureAnswer = z.input<typeof cultureAnswer>

const TAG = 'Live food'
const params = z.strictObject({ id: z.uuid() })
const changed = z.strictObject({ culture: cultureAnswer, warnings: z.array(warningAnswer) })

export const cultureApi = {
  list: describeApi({
    id: 'listCultures',
    method: 'get',
    path: '/cultures',
    tag: TAG,
    summary: 'Jars, oldest record first: harvests, suspicion, flies still expected',
    permission: 'live-food:read',
    query: pageQuery.extend({
      line: lineSlugSchema.optional(),
      state: z.enum(['standing', 'ended']).optional(),
    }),
    answer: listAnswer(cultureAnswer),
  }),
  create: describeApi({
    id: 'createCultures',
    method: 'post',
    path: '/cultures',
    tag: TAG,
    summary: 'Record cultures that were started',
    permission: 'live-food:write',
    body: newCultureSchema,
    answer: z.strictObject({ cultures: z.array(cultureAnswer), warnings: z.array(warningAnswer) }),
  }),
  harvest: describeApi({
    id: 'recordHarvest',
    method: 'post',
    path: '/cultures/{id}/harvests',
    tag: TAG,
    summary: 'Record flies taken out of a culture',
    permission: 'live-food:write',
    params,
    body: newHarvestSchema,
    answer: changed,
  }),
  discard: describeApi({
    id: 'recordDiscard',
    method: 'post',
    path: '/cultures/{id}/discards',
    tag: TAG,
    summary: 'Record that a culture was discarded, or sold',
    permission: 'live-food:write',
    params,
    body: newDiscardSchema,
    answer: changed,
  }),
  mark: describeApi({
    id: 'recordMark',
    method: 'post',
    path: '/cultures/{id}/marks',
    tag: TAG,
    summary: 'Mark a culture for mites, mould or a crash; mites make its neighbours suspect',
    permission: 'live-food:write',
    params,
    body: newMarkSchema,
    answer: changed,
  }),
}
