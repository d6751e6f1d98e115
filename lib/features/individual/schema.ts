import { z } from 'zod'
import type { PlainDate } from '@/lib/domain/calendar/date'
import type { MoultForecast } from '@/lib/domain/development/forecast'
import type { Outlook } from '@/lib/domain/individual/outlook'
import { type GrowthRecord, lastMoultOn, moultsOf } from '@/lib/domain/individual/record'
import type { RemainingLife } from '@/lib/domain/individual/remaining-life'
import { type InstarNaming, instarLabel, instarNumber } from '@/lib/domain/instar/label'
import { maybePaperSchema, papersSchema, readMaybePaper } from '@/lib/features/paper/schema'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { asOfSchema, plainDateSchema } from '@/lib/platform/plain-date-schema'

export const SEXES = ['male', 'female', 'unsexed'] as const
export const CERTAINTIES = ['probable', 'certain'] as const
export const WHEREABOUTS = ['single', 'sold', 'given_away', 'dead', 'escaped'] as const
export type Whereabouts = (typeof WHEREABOUTS)[number]

/** How a state is called where animals are listed. */
export const WHEREABOUTS_WORDS: Record<Whereabouts, string> = {
  single: 'Here',
  sold: 'Sold',
  given_away: 'Given away',
  dead: 'Dead',
  escaped: 'Escaped',
}

const text = (length: number) => z.string().trim().max(length)
const speciesSchema = z.string().min(1, 'Choose one.').max(120)
const versionSchema = z.number().int().positive()
export const individualParams = z.strictObject({ id: z.uuid() })

export const warningSchema = z.strictObject({ code: z.string(), message: z.string() })

/** A cup of a kind in a zone: where an animal is put. */
export const placeFields = { containerKind: z.uuid('Choose one.'), zone: z.uuid('Choose one.') }

/** An animal that came from elsewhere. Its instar is counted as the workspace counts; adults have none. */
export const newIndividualSchema = z
  .strictObject({
    species: speciesSchema,
    on: plainDateSchema.meta({ description: 'the day it came here' }),
    origin: z.enum(['bought', 'wild']),
    instar: z.number().int('Enter a whole number.').min(1).max(16).optional(),
    adult: z.boolean().default(false),
    lastMoultOn: plainDateSchema.optional(),
    sex: z.enum(SEXES).default('unsexed'),
    sexCertainty: z.enum(CERTAINTIES).optional(),
    mated: z.boolean().optional(),
    supplier: text(120).default(''),
    notes: text(2000).default(''),
    papers: papersSchema.meta({ description: 'permits and proofs that came with it' }),
    ...placeFields,
  })
  .refine(({ instar, adult }) => adult || instar !== undefined, {
    path: ['instar'],
    message: 'Enter its instar, or say that it is adult.',
  })
export type NewIndividual = z.output<typeof newIndividualSchema>

/** The screen asks for the stage in one box and takes a whole lot at once. */
export const newIndividualFormSchema = z.strictObject({
  species: speciesSchema,
  on: plainDateSchema,
  origin: z.enum(['bought', 'wild']),
  stage: z.string().regex(/^(adult|\d{1,2})$/, 'Choose one.'),
  lastMoultOn: plainDateSchema.optional(),
  sex: z.enum(SEXES).default('unsexed'),
  supplier: text(120).default(''),
  notes: text(2000).default(''),
  paper: maybePaperSchema,
  count: z
    .number()
    .int('Enter a whole number.')
    .min(1, 'At least one.')
    .max(200, 'At most 200 at once.')
    .default(1),
  ...placeFields,
})
export type NewIndividualForm = z.output<typeof newIndividualFormSchema>

export function readNewIndividual(typed: NewIndividualForm): NewIndividual {
  const { stage, count: _, paper, ...typedRest } = typed
  const rest = { ...typedRest, papers: readMaybePaper(paper) }
  return stage === 'adult' ? { ...rest, adult: true } : { ...rest, adult: false, instar: Number(stage) }
}

export const sexingSchema = z.strictObject({
  on: plainDateSchema.optional(),
  sex: z.enum(SEXES),
  certainty: z.enum(CERTAINTIES).optional(),
})
export const sexingFormSchema = sexingSchema.extend({ individual: z.uuid(), version: versionSchema })
export type Sexing = z.output<typeof sexingSchema> & { individual: string; version?: number }

export const noteFormSchema = z.strictObject({
  individual: z.uuid(),
  version: versionSchema,
  notes: text(2000).default(''),
  mated: z.enum(['yes', 'no', 'unknown']).default('unknown'),
})
export type IndividualNote = z.output<typeof noteFormSchema>

export const individualAnswer = z
  .strictObject({
    id: z.string(),
    label: z.string(),
    species: z.string().meta({ description: 'id of the species' }),
    speciesSlug: z.string(),
    scientificName: z.string(),
    clutch: z.string().nullable(),
    state: z.string(),
    origin: z.enum(['bred', 'bought', 'wild']),
    sex: z.enum(SEXES),
    sexCertainty: z.enum(['none', ...CERTAINTIES]),
    moults: z.number().int().meta({ description: 'moults since hatch' }),
    instar: z.number().int().nullable().meta({ description: 'as the workspace counts; null for adults' }),
    stage: z.string(),
    isAdult: z.boolean(),
    hatchedOn: z.string().nullable(),
    lastMoultOn: z.string().nullable(),
    adultSinceOn: z.string().nullable(),
    zone: z.string().nullable(),
    container: z.string().nullable(),
    containerKind: z.string().nullable(),
    lastFedOn: z.string().nullable(),
    mated: z.boolean().nullable(),
    notes: z.string(),
    version: z.number().int(),
  })
  .meta({ id: 'Individual' })
export type IndividualAnswer = z.input<typeof individualAnswer>

const windowShape = {
  p10: z.string(),
  p50: z.string(),
  p90: z.string(),
  chanceWithin: z.array(z.strictObject({ days: z.number(), probability: z.number() })),
  chanceFinal: z.number().meta({ description: 'chance that this moult is the final one' }),
  isOverdue: z.boolean(),
  reason: z.string(),
}
const nextMoultAnswer = z.strictObject({
  ...windowShape,
  leaveAlone: z.strictObject({ from: z.string(), until: z.string() }),
})

const remainingLifeAnswer = z.strictObject({
  p10: z.string(),
  p50: z.string(),
  p90: z.string(),
  chanceWithin: z.array(z.strictObject({ days: z.number(), probability: z.number() })),
  reason: z.string(),
})

/** `nextMoult` and `adult` are null for adults, and where nothing can be said; `reason` then says why. */
export const forecastAnswer = z.strictObject({
  individual: z.string(),
  asOf: z.string(),
  moults: z.number().int(),
  isAdult: z.boolean(),
  adultSinceOn: z.string().nullable(),
  state: z.enum(['soft', 'window', 'overdue', 'quiet', 'adult', 'unknown']),
  softUntil: z.string().nullable(),
  nextMoult: nextMoultAnswer.nullable(),
  adult: z.strictObject(windowShape).nullable(),
  remainingLife: remainingLifeAnswer
    .nullable()
    .meta({ description: 'of adults: by when it will have died; null for nymphs' }),
  reason: z.string(),
})
export type ForecastAnswer = z.input<typeof forecastAnswer>

export const individualQuery = pageQuery.extend({
  species: speciesSchema.optional(),
  instar: z.union([z.literal('adult'), z.coerce.number().int().min(1).max(20)]).optional(),
  sex: z.enum(SEXES).optional(),
  zone: z.uuid().optional(),
  clutch: z.uuid().optional(),
  state: z.enum(WHEREABOUTS).optional(),
  label: z.string().max(20).optional(),
})
export type IndividualQuery = z.output<typeof individualQuery>

const tag = 'Animals'
export const individualWithWarnings = z.strictObject({
  individual: individualAnswer,
  warnings: z.array(warningSchema),
})

export const individualApi = {
  list: describeApi({
    id: 'listIndividuals',
    method: 'get',
    path: '/individuals',
    tag,
    summary: 'Animals, newest first, by species, instar, sex, zone, state and label',
    permission: 'individual:read',
    query: individualQuery,
    answer: listAnswer(individualAnswer),
  }),
  load: describeApi({
    id: 'loadIndividual',
    method: 'get',
    path: '/individuals/{id}',
    tag,
    summary: 'One animal',
    permission: 'individual:read',
    params: individualParams,
    answer: individualAnswer,
  }),
  create: describeApi({
    id: 'createIndividual',
    method: 'post',
    path: '/individuals',
    tag,
    summary: 'Record an animal that was bought or caught wild',
    permission: 'individual:write',
    body: newIndividualSchema,
    answer: individualAnswer.extend({ warnings: z.array(warningSchema) }),
  }),
  forecast: describeApi({
    id: 'forecastIndividual',
    method: 'get',
    path: '/individuals/{id}/forecast',
    tag,
    summary: 'When it will moult next, and when it will be adult, as windows',
    permission: 'individual:read',
    params: individualParams,
    query: z.strictObject({ asOf: asOfSchema }),
    answer: forecastAnswer,
  }),
  sex: describeApi({
    id: 'sexIndividual',
    method: 'post',
    path: '/individuals/{id}/sexings',
    tag,
    summary: 'Record the sex and how sure it is',
    permission: 'individual:write',
    params: individualParams,
    body: sexingSchema,
    answer: individualWithWarnings,
  }),
}

/** What an answer is made of; the rows of this feature and of its species have all of it. */
type PresentableAnimal = GrowthRecord &
  Pick<
    IndividualAnswer,
    'id' | 'label' | 'origin' | 'sex' | 'sexCertainty' | 'mated' | 'notes' | 'version'
  > & {
    clutchId: string | null
    whereabouts: string
    lastFedOn: string | null
    stays: readonly { containerId: string; kindId: string; zoneId: string; until: string | null }[]
  }
type PresentableSpecies = { id: string; slug: string; scientificName: string }

export function presentIndividual(
  animal: PresentableAnimal,
  species: PresentableSpecies,
  naming: InstarNaming,
): IndividualAnswer {
  const { id, label, origin, sex, sexCertainty, hatchedOn, adultSinceOn, lastFedOn, mated, notes, version } =
    animal
  const moults = moultsOf(animal)
  const isAdult = adultSinceOn !== null
  const stay = animal.stays.findLast(({ until }) => until === null)
  return {
    id,
    label,
    species: species.id,
    speciesSlug: species.slug,
    scientificName: species.scientificName,
    clutch: animal.clutchId,
    state: animal.whereabouts,
    origin,
    sex,
    sexCertainty,
    moults,
    instar: isAdult ? null : instarNumber(moults, naming.convention),
    stage: instarLabel(moults, naming, { isAdult }),
    isAdult,
    hatchedOn,
    lastMoultOn: lastMoultOn(animal),
    adultSinceOn,
    zone: stay?.zoneId ?? null,
    container: stay?.containerId ?? null,
    containerKind: stay?.kindId ?? null,
    lastFedOn,
    mated,
    notes,
    version,
  }
}

/** `outlook` null: a species whose instars nobody has defined. */
export function presentForecast(
  animal: { id: string; adultSinceOn: PlainDate | null },
  {
    outlook,
    adult,
    life,
  }: { outlook: Outlook | null; adult: MoultForecast | null; life: RemainingLife | null },
  asOf: PlainDate,
): ForecastAnswer {
  const reason =
    outlook?.nextMoult?.reason ?? 'No temperature is known where it stands, so nothing is forecast.'
  return {
    individual: animal.id,
    asOf,
    moults: outlook?.moults ?? 0,
    isAdult: outlook?.isAdult ?? false,
    adultSinceOn: outlook?.isAdult ? animal.adultSinceOn : null,
    state: outlook?.state ?? 'unknown',
    softUntil: outlook?.softUntil ?? null,
    nextMoult: presentWindow(outlook?.nextMoult, ({ leaveAlone }) => ({ leaveAlone })),
    adult: presentWindow(adult, () => ({})),
    remainingLife: life,
    reason: outlook ? reason : 'No care profile of this species defines its instars, so nothing is forecast.',
  }
}

type Forecast = Extract<MoultForecast, { status: 'forecast' }>

function presentWindow<M>(forecast: MoultForecast | null | undefined, more: (forecast: Forecast) => M) {
  if (forecast?.status !== 'forecast') return null
  const { p10, p50, p90, chanceWithin, chanceFinal, isOverdue, reason } = forecast
  return { p10, p50, p90, chanceWithin, chanceFinal, isOverdue, reason, ...more(forecast) }
}
