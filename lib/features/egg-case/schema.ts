import { z } from 'zod'
import { clutchAnswer, warningAnswer } from '@/lib/features/clutch/schema'
import { maybePaperSchema, papersSchema, readMaybePaper } from '@/lib/features/paper/schema'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { asOfSchema, plainDateSchema } from '@/lib/platform/plain-date-schema'

export const EGG_CASE_ENDS = ['spent', 'infertile', 'wasps', 'discarded', 'given_away'] as const
/** Sold is said by a receipt, not chosen. */
export type EggCaseEnd = (typeof EGG_CASE_ENDS)[number] | 'sold'

/** Said where an end is chosen and where it is shown. */
export const EGG_CASE_END_WORDS: Record<EggCaseEnd, string> = {
  spent: 'Spent: everything has hatched',
  infertile: 'Infertile',
  wasps: 'Wasps came out',
  discarded: 'Thrown away',
  given_away: 'Given away',
  sold: 'Sold',
}

const text = (length: number) => z.string().trim().max(length)

const restSchema = z.strictObject({
  startOn: plainDateSchema,
  plannedEndOn: plainDateSchema.nullish(),
  endedOn: plainDateSchema.nullish(),
})
export type ColdRestInput = z.output<typeof restSchema>

const laidBetweenSchema = z.strictObject({ from: plainDateSchema, until: plainDateSchema })

/** One way of saying when it was laid is needed; a bought one with a known day may have both. */
export const newEggCaseSchema = z.strictObject({
  species: z.string().min(1, 'Choose one.').max(120),
  zone: z.uuid('Choose one.'),
  laidOn: plainDateSchema.optional(),
  laidBetween: laidBetweenSchema.optional(),
  receivedOn: plainDateSchema.optional(),
  mother: text(40).optional(),
  /** the colony it was found in: its parents are then among those who lived there */
  colony: z.uuid().optional(),
  supplier: text(120).default(''),
  lot: text(120).default(''),
  notes: text(2000).default(''),
  papers: papersSchema.meta({ description: 'permits and proofs that came with it' }),
  rest: restSchema.optional(),
})
export type NewEggCase = z.output<typeof newEggCaseSchema>

/** The screen asks flatly, one thing per box. */
export const newEggCaseFormSchema = z
  .strictObject({
    species: z.string().min(1, 'Choose one.').max(120),
    zone: z.uuid('Choose one.'),
    known: z.enum(['laid-on', 'laid-between', 'received']),
    laidOn: plainDateSchema.optional(),
    laidFrom: plainDateSchema.optional(),
    laidUntil: plainDateSchema.optional(),
    receivedOn: plainDateSchema.optional(),
    mother: text(40).optional(),
    colony: z.union([z.literal('').transform(() => undefined), z.uuid()]).optional(),
    supplier: text(120).default(''),
    lot: text(120).default(''),
    notes: text(2000).default(''),
    paper: maybePaperSchema,
  })
  .superRefine((typed, context) => {
    const need = (path: 'laidOn' | 'laidFrom' | 'laidUntil' | 'receivedOn') => {
      if (!typed[path]) context.addIssue({ code: 'custom', path: [path], message: 'Fill this in.' })
    }
    if (typed.known === 'laid-on') need('laidOn')
    if (typed.known === 'laid-between') {
      need('laidFrom')
      need('laidUntil')
    }
    if (typed.known === 'received') need('receivedOn')
  })
export type NewEggCaseForm = z.output<typeof newEggCaseFormSchema>

/** What stands in the boxes that are shown for the chosen way; the others do not count. */
export function readNewEggCase(typed: NewEggCaseForm): NewEggCase {
  const { species, zone, known, mother, colony, supplier, lot, notes, receivedOn } = typed
  const papers = readMaybePaper(typed.paper)
  const rest = { species, zone, mother, colony, supplier, lot, notes, receivedOn, papers }
  if (known === 'laid-on') return { ...rest, laidOn: typed.laidOn }
  if (known === 'received') return rest
  return { ...rest, laidBetween: { from: typed.laidFrom ?? '', until: typed.laidUntil ?? '' } }
}

const countSchema = z.number().int().min(1).max(100_000)
export const aboutSchema = z
  .strictObject({ low: z.number().int().min(0).max(100_000), likely: countSchema, high: countSchema })
  .refine(({ low, likely }) => low <= likely, { path: ['low'], message: 'More than the likely number.' })
  .refine(({ likely, high }) => high >= likely, { path: ['high'], message: 'Less than the likely number.' })

const HATCH_FIELDS = {
  on: plainDateSchema,
  count: countSchema.optional(),
  about: aboutSchema.optional(),
  /** another day of the same clutch, or a second egg case of one mother in the same tub */
  clutch: z.uuid().optional(),
  zone: z.uuid().optional(),
}
export const newHatchSchema = z
  .strictObject(HATCH_FIELDS)
  .refine(({ count, about }) => (count === undefined) !== (about === undefined), {
    path: ['count'],
    message: 'Enter a count, or about how many, not both.',
  })
export type NewHatch = z.output<typeof newHatchSchema>

/** Two fields on the screen: a day, and a number that may be "about". */
export const newHatchFormSchema = z.strictObject({
  eggCase: z.uuid(),
  on: plainDateSchema,
  count: countSchema,
  isAbout: z.boolean().default(false),
  low: z.number().int().min(0).max(100_000).optional(),
  high: countSchema.optional(),
  clutch: z.union([z.uuid(), z.literal('new')]).optional(),
})
export type NewHatchForm = z.output<typeof newHatchFormSchema>

export const eggCaseMoveSchema = z.strictObject({
  eggCase: z.uuid(),
  zone: z.uuid('Choose one.'),
  on: plainDateSchema,
})
export type EggCaseMove = z.output<typeof eggCaseMoveSchema>

export const eggCaseRestSchema = z.strictObject({
  eggCase: z.uuid(),
  version: z.number().int(),
  ...restSchema.shape,
})
export type EggCaseRest = z.output<typeof eggCaseRestSchema>

export const eggCaseEndSchema = z.strictObject({
  eggCase: z.uuid(),
  version: z.number().int(),
  on: plainDateSchema,
  end: z.enum(EGG_CASE_ENDS),
})
export type EggCaseEnding = z.output<typeof eggCaseEndSchema>

export const eggCaseReopenSchema = z.strictObject({ eggCase: z.uuid(), version: z.number().int() })

const windowSchema = z.strictObject({ p10: z.string(), p50: z.string(), p90: z.string() })

export const eggCaseAnswer = z
  .strictObject({
    id: z.string(),
    label: z.string(),
    species: z.string(),
    speciesSlug: z.string(),
    scientificName: z.string(),
    zone: z.string().nullable(),
    laidOn: z.string().nullable(),
    laidBetween: z.strictObject({ from: z.string(), until: z.string() }).nullable(),
    receivedOn: z.string().nullable(),
    mother: z.string().nullable(),
    colony: z.string().nullable(),
    supplier: z.string(),
    lot: z.string(),
    notes: z.string(),
    rest: z
      .object({ startOn: z.string(), plannedEndOn: z.string().nullable(), endedOn: z.string().nullable() })
      .nullable(),
    state: z.enum(['incubating', 'cold-rest', 'hatching', 'ended']),
    end: z.enum([...EGG_CASE_ENDS, 'sold']).nullable(),
    endedOn: z.string().nullable(),
    hatchWindow: windowSchema.nullable(),
    /** chance that it hatches at all, given that it has not yet */
    chance: z.number().nullable(),
    chanceWithin: z.array(z.strictObject({ days: z.number(), probability: z.number() })),
    expectedNymphs: z.strictObject({ low: z.number(), typical: z.number(), high: z.number() }).nullable(),
    reason: z.string(),
    hatches: z.array(
      z.strictObject({
        id: z.string(),
        on: z.string(),
        count: z.number(),
        about: z.strictObject({ low: z.number(), likely: z.number(), high: z.number() }).nullable(),
        clutch: z.string(),
      }),
    ),
    version: z.number(),
  })
  .meta({ id: 'EggCase' })
export type EggCaseAnswer = z.input<typeof eggCaseAnswer>

const listQuery = z.strictObject({
  species: z.string().max(120).optional(),
  state: z.enum(['open', 'ended']).optional(),
  asOf: asOfSchema,
  limit: z.coerce.number().int().min(1).max(200).default(50),
  cursor: z.uuid().optional(),
})

/** "About 60" without a range is between three fifths and three halves of it: nobody counts nymphs at seven. */
export function readNewHatch(typed: NewHatchForm): NewHatch & { eggCase: string; isNewClutch: boolean } {
  const { eggCase, on, count, isAbout, clutch } = typed
  const about = {
    low: Math.min(typed.low ?? Math.floor(count * 0.6), count),
    likely: count,
    high: Math.max(typed.high ?? Math.ceil(count * 1.5), count),
  }
  return {
    eggCase,
    on,
    ...(isAbout ? { about } : { count }),
    isNewClutch: clutch === 'new',
    ...(clutch && clutch !== 'new' ? { clutch } : {}),
  }
}

const idParams = z.strictObject({ id: z.uuid() })

export const eggCaseApi = {
  list: describeApi({
    id: 'listEggCases',
    method: 'get',
    path: '/egg-cases',
    tag: 'Egg cases',
    summary: 'Egg cases with their hatch windows, newest record first',
    permission: 'egg-case:read',
    query: listQuery,
    answer: listAnswer(eggCaseAnswer),
  }),
  create: describeApi({
    id: 'createEggCase',
    method: 'post',
    path: '/egg-cases',
    tag: 'Egg cases',
    summary: 'Record an egg case: laid on a day, between two days, or received',
    permission: 'egg-case:write',
    body: newEggCaseSchema,
    answer: eggCaseAnswer,
  }),
  load: describeApi({
    id: 'loadEggCase',
    method: 'get',
    path: '/egg-cases/{id}',
    tag: 'Egg cases',
    summary: 'One egg case with its hatch window and chance',
    permission: 'egg-case:read',
    params: idParams,
    query: z.strictObject({ asOf: asOfSchema }),
    answer: eggCaseAnswer,
  }),
  hatch: describeApi({
    id: 'recordHatch',
    method: 'post',
    path: '/egg-cases/{id}/hatches',
    tag: 'Egg cases',
    summary: 'Record a hatch. Later days go to the same clutch; egg cases of one mother may share one',
    permission: 'egg-case:write',
    params: idParams,
    body: newHatchSchema,
    answer: z.strictObject({
      clutch: clutchAnswer,
      hatch: z.strictObject({ id: z.string(), on: z.string(), count: z.number() }),
      warnings: z.array(warningAnswer),
    }),
  }),
}
