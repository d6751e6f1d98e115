import { z } from 'zod'
import { MOULTED_SHARES } from '@/lib/domain/separation/sighting'
import { clutchAnswer, warningAnswer } from '@/lib/features/clutch/schema'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const OBSERVATION_FIELDS = {
  on: plainDateSchema,
  moulted: z.enum(MOULTED_SHARES, 'Choose one.').meta({ description: 'how many of those together' }),
  number: z
    .number()
    .int()
    .min(1, 'At least 1.')
    .max(12, 'At most 12.')
    .optional()
    .meta({ description: 'the moult spoken of, counted since hatch; the likeliest where left out' }),
  sizeGap: z.boolean().default(false).meta({ description: 'two sizes stand side by side' }),
  hunger: z.boolean().default(false).meta({ description: 'they look for food, or stalk each other' }),
  hanging: z
    .number()
    .int()
    .min(0)
    .max(100_000)
    .optional()
    .meta({ description: 'hang from the lid for the moult spoken of; leave out where nobody counted them' }),
  wingBuds: z
    .boolean()
    .default(false)
    .meta({ description: 'some show wing buds: their next moult is the final one' }),
  refusesFood: z.boolean().default(false).meta({ description: 'they refuse food, as before a moult' }),
  dead: z
    .number()
    .int()
    .min(0)
    .max(100_000)
    .optional()
    .meta({ description: 'found dead; they leave those together' }),
  note: z.string().trim().max(500).default(''),
}
export const newObservationSchema = z.strictObject(OBSERVATION_FIELDS)

/** A select has words for values; nothing chosen is the likeliest. */
export const newObservationFormSchema = z.strictObject({
  clutch: z.uuid(),
  ...OBSERVATION_FIELDS,
  number: z
    .union([z.literal('').transform(() => undefined), z.coerce.number().int().min(1).max(12)])
    .optional(),
})
export type NewObservation = z.output<typeof newObservationSchema> & { clutch: string }

export const archiveObservationSchema = z.strictObject({
  observation: z.uuid(),
  version: z.number().int().positive(),
})
export type ArchiveObservation = z.output<typeof archiveObservationSchema>

const observationAnswer = z
  .strictObject({
    id: z.string(),
    on: z.string(),
    moulted: z.enum(MOULTED_SHARES),
    number: z.number().int(),
    sizeGap: z.boolean(),
    hunger: z.boolean(),
    hanging: z.number().int().nullable(),
    wingBuds: z.boolean(),
    refusesFood: z.boolean(),
    dead: z.number().int(),
    note: z.string(),
  })
  .meta({ id: 'ClutchObservation' })
export type ObservationAnswer = z.input<typeof observationAnswer>

export const clutchObservationApi = {
  create: describeApi({
    id: 'recordClutchObservation',
    method: 'post',
    path: '/clutches/{id}/observations',
    tag: 'Clutches',
    summary: 'Record what was seen of siblings together: none, the first, some, most or all have moulted',
    permission: 'clutch:write',
    params: z.strictObject({ id: z.uuid() }),
    body: newObservationSchema,
    answer: z.strictObject({
      observation: observationAnswer,
      clutch: clutchAnswer,
      warnings: z.array(warningAnswer),
    }),
  }),
}
