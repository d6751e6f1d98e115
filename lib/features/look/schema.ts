import { z } from 'zod'
import { GROWTH_SIGNS } from '@/lib/domain/individual/growth-sign'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

export const newLooksSchema = z.strictObject({
  on: plainDateSchema,
  individuals: z.array(z.uuid()).min(1, 'Choose at least one.').max(2000, 'At most 2000 at once.'),
  wingBuds: z
    .boolean()
    .default(false)
    .meta({ description: 'they have wing buds: their next moult is the final one' }),
  refusesFood: z.boolean().default(false).meta({ description: 'they refuse food, as before a moult' }),
})
export type NewLooks = z.output<typeof newLooksSchema>

/** The screen asks what was seen; each sign is a look that shows it. */
export const newSignFormSchema = z.strictObject({
  individuals: z.array(z.uuid()).min(1, 'Choose at least one.').max(500),
  on: plainDateSchema,
  sign: z.enum(GROWTH_SIGNS, 'Choose one.'),
})

export function readNewSigns({ individuals, on, sign }: z.output<typeof newSignFormSchema>): NewLooks {
  return { individuals, on, wingBuds: sign === 'wing_buds', refusesFood: sign === 'refuses_food' }
}

export const archiveSignsSchema = z.strictObject({ individual: z.uuid(), on: plainDateSchema })
export type ArchiveSigns = z.output<typeof archiveSignsSchema>

export const lookApi = {
  create: describeApi({
    id: 'recordLooks',
    method: 'post',
    path: '/looks',
    tag: 'Animals',
    summary: 'Record cups that were passed, their animals unchanged, and what they showed',
    permission: 'individual:write',
    body: newLooksSchema,
    answer: z.strictObject({
      recorded: z.number().int(),
      warnings: z.array(z.strictObject({ code: z.string(), message: z.string() })),
    }),
  }),
}
