import { z } from 'zod'
import { getLabelSheet, LABEL_LAYOUTS, placesOn, ROLL } from '@/lib/domain/label/sheet'
import { headCountAnswer, warningAnswer } from '@/lib/features/clutch/schema'
import { individualAnswer } from '@/lib/features/individual/schema'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const runSize = z
  .number('Enter a number.')
  .int('Enter a whole number.')
  .min(1, 'At least one.')
  .max(2000, 'At most 2000.')
const moultsSchema = z.number().int().min(0).max(12)

/** Opens the bench: so many animals, into which container, standing where. */
export const startSeparationSchema = z.strictObject({
  clutch: z.uuid(),
  containerKind: z.uuid('Choose one.'),
  zone: z.uuid('Choose one.'),
  on: plainDateSchema,
  planned: runSize,
})
export type StartSeparation = z.output<typeof startSeparationSchema>

export const newSeparationSchema = z.strictObject({
  on: plainDateSchema,
  count: runSize,
  containerKind: z.uuid('Choose one.'),
  zone: z.uuid().optional(),
  /** moults since hatch, where somebody looked; the most likely stage otherwise */
  moults: moultsSchema.optional(),
})
export type NewSeparation = z.output<typeof newSeparationSchema>

export const separationApi = {
  create: describeApi({
    id: 'createSeparation',
    method: 'post',
    path: '/clutches/{id}/separations',
    tag: 'Clutches',
    summary: 'Put so many siblings into containers of their own; each becomes an animal with a label',
    permission: 'clutch:write',
    params: z.strictObject({ id: z.uuid() }),
    body: newSeparationSchema,
    answer: z.strictObject({
      separation: z.string(),
      individuals: z.array(individualAnswer),
      headCount: headCountAnswer,
      warnings: z.array(warningAnswer),
    }),
  }),
}

/** Which paper the labels of a run are printed on, and at which place of the first sheet they begin. */
export const runLabelsQuerySchema = z
  .strictObject({
    layout: z.enum(LABEL_LAYOUTS).default(ROLL),
    start: z.coerce.number<string | number>().int().min(1).max(100).default(1),
  })
  .refine(({ layout, start }) => start <= placesOf(layout), {
    path: ['start'],
    message: 'The sheet has fewer labels than that.',
  })
export type RunLabelsQuery = z.output<typeof runLabelsQuerySchema>

function placesOf(layout: string): number {
  const sheet = getLabelSheet(layout)
  return sheet ? placesOn(sheet) : 1
}
