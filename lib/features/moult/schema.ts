import { z } from 'zod'
import { GROWTH_SIGNS } from '@/lib/domain/individual/growth-sign'
import { MOULT_OUTCOMES } from '@/lib/domain/individual/record'
import { individualAnswer, individualParams, warningSchema } from '@/lib/features/individual/schema'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

/** How a moult went, where one is chosen and where it is shown. */
export const MOULT_OUTCOME_WORDS = { good: 'Went well', bad: 'Bad moult', lost_limb: 'Lost a limb' } as const

const seenBetweenSchema = z.strictObject({ from: plainDateSchema, until: plainDateSchema })

const MOULT_FIELDS = {
  on: plainDateSchema.optional().meta({ description: 'the day it was noticed' }),
  seenBetween: seenBetweenSchema.optional().meta({
    description: 'the day it was last seen before it, and the day it was noticed',
  }),
  outcome: z.enum(MOULT_OUTCOMES).default('good'),
  final: z.boolean().default(false).meta({ description: 'it is adult now' }),
  note: z.string().trim().max(500).default(''),
}
type DatedMoult = { on?: string; seenBetween?: { from: string; until: string } }
const isDated = ({ on, seenBetween }: DatedMoult) => on !== undefined || seenBetween !== undefined
const UNDATED = { path: ['on'], message: 'Enter the day, or between which days it moulted.' }
const isOneDay = ({ on, seenBetween }: DatedMoult) => !on || !seenBetween || on === seenBetween.until
const TWO_DAYS = { path: ['seenBetween'], message: 'The span has to end on the day it was noticed.' }

export const newMoultSchema = z.strictObject(MOULT_FIELDS).refine(isDated, UNDATED).refine(isOneDay, TWO_DAYS)
const oneOfManySchema = z
  .strictObject({ individual: z.uuid(), ...MOULT_FIELDS })
  .refine(isDated, UNDATED)
  .refine(isOneDay, TWO_DAYS)
export type NewMoult = z.output<typeof oneOfManySchema>

/** `at` and `spanField` name where the moult stands in what was sent, so that a mistake is said there. */
export type SentMoult = NewMoult & {
  at: string
  spanField: 'seenBetween' | 'seenFrom'
  /** one day was typed for several: a mistake has to name its animal */
  isOneOfMany?: boolean
  /** how far back a recorded look may begin the span where none was typed */
  seenWithinDays?: number
}

export const newMoultsSchema = z.strictObject({
  moults: z.array(oneOfManySchema).min(1, 'At least one.').max(500, 'At most 500 at once.'),
})

/** The screen asks flatly: the day, and perhaps since when it may have happened. */
export const newMoultFormSchema = z.strictObject({
  individuals: z.array(z.uuid()).min(1, 'Choose at least one.').max(500),
  on: plainDateSchema,
  seenFrom: plainDateSchema.optional(),
  outcome: z.enum(MOULT_OUTCOMES).default('good'),
  final: z.boolean().default(false),
  note: z.string().trim().max(500).default(''),
})
export type NewMoultForm = z.output<typeof newMoultFormSchema>

export function readNewMoults(typed: NewMoultForm): SentMoult[] {
  const { individuals, seenFrom, on, ...rest } = typed
  const day = seenFrom ? { seenBetween: { from: seenFrom, until: on } } : { on }
  return individuals.map((individual) => ({
    individual,
    ...day,
    ...rest,
    at: '',
    spanField: 'seenFrom',
    isOneOfMany: individuals.length > 1,
  }))
}

export const archiveMoultSchema = z.strictObject({ moult: z.uuid(), version: z.number().int().positive() })
export type ArchiveMoult = z.output<typeof archiveMoultSchema>

export const updateMoultDaySchema = z.strictObject({
  moult: z.uuid(),
  version: z.number().int().positive(),
  on: plainDateSchema,
  /** the day it was last seen before it; the day stands alone where left out */
  seenFrom: plainDateSchema.optional(),
})
export type UpdateMoultDay = z.output<typeof updateMoultDaySchema>

export const confirmMoultDaySchema = z.strictObject({
  moult: z.uuid(),
  version: z.number().int().positive(),
  isRight: z.boolean(),
})
export type ConfirmMoultDay = z.output<typeof confirmMoultDaySchema>

const moultAnswer = z
  .strictObject({
    id: z.string(),
    individual: z.string(),
    number: z.number().int().meta({ description: 'counted since hatch' }),
    on: z.string(),
    seenBetween: z.strictObject({ from: z.string(), until: z.string() }).nullable(),
    outcome: z.enum(MOULT_OUTCOMES),
    final: z.boolean(),
  })
  .meta({ id: 'Moult' })
export type MoultAnswer = z.input<typeof moultAnswer>

export const moultApi = {
  create: describeApi({
    id: 'recordMoult',
    method: 'post',
    path: '/individuals/{id}/moults',
    tag: 'Animals',
    summary: 'Record a moult, on a day or between two',
    permission: 'individual:write',
    params: individualParams,
    body: newMoultSchema,
    answer: z.strictObject({
      moult: moultAnswer,
      individual: individualAnswer,
      warnings: z.array(warningSchema),
    }),
  }),
  createMany: describeApi({
    id: 'recordMoults',
    method: 'post',
    path: '/moults',
    tag: 'Animals',
    summary: 'Record the moults of many animals, all or none',
    permission: 'individual:write',
    body: newMoultsSchema,
    answer: z.strictObject({ moults: z.array(moultAnswer), warnings: z.array(warningSchema) }),
  }),
}

const skinSchema = z.strictObject({
  individual: z.uuid(),
  /** the last look begins the span where this is left out */
  seenFrom: plainDateSchema.optional(),
  outcome: z.enum(MOULT_OUTCOMES).default('good'),
  final: z.boolean().default(false),
})

/** One shelf of a round, as the device sends it: the cups with a skin, and those that were passed without. */
export const roundShelfSchema = z.strictObject({
  round: z.uuid(),
  on: plainDateSchema,
  skins: z.array(skinSchema).max(500),
  passed: z.array(z.uuid()).max(500),
  /** what cups without a skin showed */
  signs: z
    .array(z.strictObject({ individual: z.uuid(), sign: z.enum(GROWTH_SIGNS) }))
    .max(500)
    .default([]),
  isLast: z.boolean().default(false),
})
export type RoundShelf = z.output<typeof roundShelfSchema>
export type RoundShelfAnswer = { round: string; looks: number; moults: number }

export const archiveRoundSchema = z.strictObject({ round: z.uuid() })
export type ArchiveRound = z.output<typeof archiveRoundSchema>

export function readSkins({ skins, on }: RoundShelf, seenWithinDays: number): SentMoult[] {
  return skins.map(({ individual, seenFrom, outcome, final }, index) => ({
    individual,
    on,
    ...(seenFrom ? { seenBetween: { from: seenFrom, until: on } } : {}),
    outcome,
    final,
    note: '',
    at: `skins.${index}.`,
    spanField: 'seenFrom',
    isOneOfMany: true,
    seenWithinDays,
  }))
}
