import { z } from 'zod'
import { LOSS_CAUSES } from '@/lib/domain/head-count/loss-cause'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { asOfSchema, plainDateSchema } from '@/lib/platform/plain-date-schema'

/** Where animals go that leave the group otherwise than into cups. */
export const LEAVING_STATES = ['dead', 'escaped', 'given_away'] as const
export type LeavingState = (typeof LEAVING_STATES)[number]

const clutchField = { clutch: z.uuid() }
const animalsSchema = z.number().int().min(1).max(100_000)
const noteSchema = z.string().trim().max(500).default('')

const LOSS_FIELDS = {
  on: plainDateSchema,
  count: animalsSchema,
  cause: z.enum(LOSS_CAUSES).default('unknown'),
  to: z.enum(LEAVING_STATES).default('dead'),
  note: noteSchema,
}
export const newLossSchema = z.strictObject(LOSS_FIELDS)
export const newLossFormSchema = z.strictObject({ ...clutchField, ...LOSS_FIELDS })
export type NewLoss = z.output<typeof newLossFormSchema>

export const newRecountSchema = z.strictObject({
  on: plainDateSchema,
  counted: z.number().int().min(0).max(100_000),
  note: noteSchema,
})
export const newRecountFormSchema = z.strictObject({ ...clutchField, ...newRecountSchema.shape })
export type NewRecount = z.output<typeof newRecountFormSchema>

/** The hatch itself was miscounted: up or down, an entry of its own and no loss. */
export const countCorrectionSchema = z.strictObject({
  ...clutchField,
  on: plainDateSchema,
  hatched: z.number().int().min(0).max(100_000),
  note: noteSchema,
})
export type CountCorrection = z.output<typeof countCorrectionSchema>

export const foundAgainSchema = z.strictObject({ ...clutchField, on: plainDateSchema, count: animalsSchema })
export type FoundAgain = z.output<typeof foundAgainSchema>

export const reversalSchema = z.strictObject({ ...clutchField, entry: z.uuid(), note: noteSchema })
export type Reversal = z.output<typeof reversalSchema>

export const clutchMoveSchema = z.strictObject({
  ...clutchField,
  zone: z.uuid('Choose one.'),
  on: plainDateSchema,
})
export type ClutchMove = z.output<typeof clutchMoveSchema>

export const headCountAnswer = z.strictObject({
  hatched: z.number(),
  together: z.number(),
  single: z.number(),
  sold: z.number(),
  givenAway: z.number(),
  dead: z.number(),
  escaped: z.number(),
  unaccounted: z.number(),
})

export const warningAnswer = z.strictObject({ code: z.string(), message: z.string() })

export const clutchAnswer = z
  .strictObject({
    id: z.string(),
    label: z.string(),
    species: z.string(),
    speciesSlug: z.string(),
    scientificName: z.string(),
    zone: z.string().nullable(),
    hatchedOn: z.string(),
    eggCases: z.array(z.string()),
    isCounted: z.boolean(),
    /** the range of "about", while the clutch is not counted */
    hatchedBetween: z.strictObject({ low: z.number(), high: z.number() }).nullable(),
    headCount: headCountAnswer,
    separation: z
      .object({
        state: z.enum(['fine', 'due', 'late']),
        dueOn: z.string().nullable(),
        lateOn: z.string().nullable(),
        /** animals lost in all if everyone stays together until that day */
        expectedLosses: z.array(z.strictObject({ on: z.string(), animals: z.number() })),
        perDayNow: z.number(),
        reasons: z.array(z.string()),
      })
      .nullable(),
    hanging: z
      .strictObject({ on: z.string(), count: z.number().int(), until: z.string() })
      .nullable()
      .meta({ description: 'who hung for a moult when they were last counted; soft before `until`' }),
    notes: z.string(),
    version: z.number(),
  })
  .meta({ id: 'Clutch' })
export type ClutchAnswer = z.input<typeof clutchAnswer>

const idParams = z.strictObject({ id: z.uuid() })

const entryAnswer = z.strictObject({
  id: z.string(),
  from: z.string(),
  to: z.string(),
  count: z.number(),
  on: z.string(),
})

export const clutchApi = {
  list: describeApi({
    id: 'listClutches',
    method: 'get',
    path: '/clutches',
    tag: 'Clutches',
    summary: 'Clutches with head count and separation deadline, newest record first',
    permission: 'clutch:read',
    query: z.strictObject({
      species: z.string().max(120).optional(),
      state: z.enum(['together']).optional(),
      asOf: asOfSchema,
      limit: z.coerce.number().int().min(1).max(200).default(50),
      cursor: z.uuid().optional(),
    }),
    answer: listAnswer(clutchAnswer),
  }),
  load: describeApi({
    id: 'loadClutch',
    method: 'get',
    path: '/clutches/{id}',
    tag: 'Clutches',
    summary: 'One clutch: where every animal of it is, and until when its siblings can stay together',
    permission: 'clutch:read',
    params: idParams,
    query: z.strictObject({ asOf: asOfSchema }),
    answer: clutchAnswer,
  }),
  lose: describeApi({
    id: 'recordLoss',
    method: 'post',
    path: '/clutches/{id}/losses',
    tag: 'Clutches',
    summary: 'Record animals of the group as dead, escaped or given away',
    permission: 'clutch:write',
    params: idParams,
    body: newLossSchema,
    answer: z.strictObject({
      entry: entryAnswer,
      headCount: headCountAnswer,
      warnings: z.array(warningAnswer),
    }),
  }),
  recount: describeApi({
    id: 'recordRecount',
    method: 'post',
    path: '/clutches/{id}/recounts',
    tag: 'Clutches',
    summary:
      'Record how many were counted together; an "about" is corrected, in a counted clutch the rest is unaccounted',
    permission: 'clutch:write',
    params: idParams,
    body: newRecountSchema,
    answer: z.strictObject({
      entry: entryAnswer.nullable(),
      headCount: headCountAnswer,
      warnings: z.array(warningAnswer),
    }),
  }),
}
