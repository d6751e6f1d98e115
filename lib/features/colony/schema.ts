import { z } from 'zod'
import { warningAnswer } from '@/lib/features/clutch/schema'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const moults = z.number('Choose one.').int().min(0, 'Not below 0.').max(14, 'At most 14.')
const chosenMoults = z.coerce.number<string | number>('Choose one.').int().min(0).max(14)

export const newColonySchema = z.strictObject({
  name: z.string().trim().min(1, 'Give it a name.').max(60, 'At most 60 letters.'),
  species: z.string().min(1, 'Choose one.').max(120),
  containerKind: z.uuid('Choose one.'),
  zone: z.uuid('Choose one.'),
  on: plainDateSchema,
  notes: z.string().trim().max(2000).default(''),
})
export type NewColony = z.output<typeof newColonySchema>

const ENTRY_FIELDS = {
  clutch: z.uuid('Choose one.'),
  on: plainDateSchema,
  overrideReason: z.string().trim().max(300, 'At most 300 letters.').default(''),
}
const orderedStages = {
  path: ['mostMoults'],
  message: 'The largest have made at least as many moults as the smallest.',
}

export const newColonyEntrySchema = z
  .strictObject({
    ...ENTRY_FIELDS,
    leastMoults: moults.optional().meta({ description: 'of the smallest; expected where left out' }),
    mostMoults: moults.optional().meta({ description: 'of the largest; expected where left out' }),
  })
  .refine(
    ({ leastMoults, mostMoults }) =>
      leastMoults === undefined || mostMoults === undefined || leastMoults <= mostMoults,
    orderedStages,
  )
export type NewColonyEntry = z.output<typeof newColonyEntrySchema> & { colony: string }

export const newColonyEntryFormSchema = z
  .strictObject({
    colony: z.uuid(),
    ...ENTRY_FIELDS,
    leastMoults: chosenMoults,
    mostMoults: chosenMoults,
  })
  .refine(({ leastMoults, mostMoults }) => leastMoults <= mostMoults, orderedStages)

const SEXES = ['male', 'female', 'unsexed'] as const

const countLine = z
  .strictObject({
    sex: z.enum(SEXES),
    moults: moults.optional(),
    adult: z.boolean().default(false),
    animals: z.number('Enter a number.').int().min(0, 'Not below nothing.').max(100_000),
  })
  .refine((line) => line.adult || line.moults !== undefined, {
    path: ['moults'],
    message: 'Say how many moults they have made, or that they are adult.',
  })

export const newColonyCountSchema = z.strictObject({
  on: plainDateSchema,
  lines: z.array(countLine).min(1, 'Count at least one line.').max(60),
})
export type NewColonyCount = z.output<typeof newColonyCountSchema> & { colony: string }

/** A box for each sex at each stage; an empty one is nobody. */
const figure = z.number('Enter a number.').int().min(0, 'Not below nothing.').max(100_000).optional()
export const newColonyCountFormSchema = z.strictObject({
  colony: z.uuid(),
  on: plainDateSchema,
  rows: z
    .array(
      z.strictObject({
        moults: z.number().int().min(0).max(14).nullable(),
        male: figure,
        female: figure,
        unsexed: figure,
      }),
    )
    .max(20),
})

/** What stands in the boxes, as lines. */
export function readColonyCount(typed: z.output<typeof newColonyCountFormSchema>): NewColonyCount {
  const lines = typed.rows.flatMap((row) =>
    SEXES.flatMap((sex) => {
      const animals = row[sex]
      if (animals === undefined) return []
      return [{ sex, animals, adult: row.moults === null, moults: row.moults ?? undefined }]
    }),
  )
  return { colony: typed.colony, on: typed.on, lines }
}

export const moveColonySchema = z.strictObject({
  colony: z.uuid(),
  zone: z.uuid('Choose one.'),
  on: plainDateSchema,
})
export type MoveColony = z.output<typeof moveColonySchema>

export const archiveColonySchema = z.strictObject({
  colony: z.uuid(),
  version: z.number().int().positive(),
  on: plainDateSchema,
})
export type ArchiveColony = z.output<typeof archiveColonySchema>

const colonyAnswer = z
  .strictObject({
    id: z.string(),
    name: z.string(),
    species: z.string(),
    container: z.string(),
    zone: z.string(),
    openedOn: z.string(),
    closedOn: z.string().nullable(),
    clutches: z.array(z.strictObject({ id: z.string(), label: z.string(), together: z.number().int() })),
    counted: z
      .strictObject({
        on: z.string(),
        lines: z.array(
          z.strictObject({
            sex: z.enum(SEXES),
            moults: z.number().int(),
            adult: z.boolean(),
            animals: z.number().int(),
          }),
        ),
      })
      .nullable(),
    capacity: z
      .number()
      .int()
      .nullable()
      .meta({ description: 'how many of the largest there is room for: one in each (3 × body length)³' }),
    version: z.number().int(),
  })
  .meta({ id: 'Colony' })
export type ColonyAnswer = z.input<typeof colonyAnswer>

const TAG = 'Colonies'
const params = z.strictObject({ id: z.uuid() })
const changed = z.strictObject({ colony: colonyAnswer, warnings: z.array(warningAnswer) })

export const colonyApi = {
  list: describeApi({
    id: 'listColonies',
    method: 'get',
    path: '/colonies',
    tag: TAG,
    summary: 'Animals that live together because their care profile allows it',
    permission: 'clutch:read',
    answer: listAnswer(colonyAnswer),
  }),
  create: describeApi({
    id: 'createColony',
    method: 'post',
    path: '/colonies',
    tag: TAG,
    summary: 'Begin a colony in a container for several, of a species whose care profile allows it',
    permission: 'clutch:write',
    body: newColonySchema,
    answer: changed,
  }),
  enter: describeApi({
    id: 'recordColonyEntry',
    method: 'post',
    path: '/colonies/{id}/entries',
    tag: TAG,
    summary: 'Put a clutch in. More than one instar apart is refused; too little room is a warning',
    permission: 'clutch:write',
    params,
    body: newColonyEntrySchema,
    answer: changed,
  }),
  count: describeApi({
    id: 'recordColonyCount',
    method: 'post',
    path: '/colonies/{id}/counts',
    tag: TAG,
    summary: 'Record who is inside, by sex and instar; takes the place of a count of the same day',
    permission: 'clutch:write',
    params,
    body: newColonyCountSchema,
    answer: changed,
  }),
}
