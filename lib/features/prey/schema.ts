import { z } from 'zod'
import type { Figure } from '@/lib/domain/prey/figure'
import { listFigures } from '@/lib/domain/prey/figure'
import type { RoomLine } from '@/lib/domain/prey/kept-line'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

export const lineSlugSchema = z
  .string()
  .min(1, 'Choose a line.')
  .max(60)
  .regex(/^[a-z0-9-]+$/, 'Choose a line.')
const note = z.string().trim().max(300, 'At most 300 letters.').default('')
const number = z.number().int().min(0)
const items = z.number('Enter a number.').int('Enter a whole number.').max(1_000_000, '1,000,000 at most.')

export const createPreyLineSchema = z.strictObject({
  name: z.string().trim().min(1, 'Give it a name.').max(60, 'At most 60 letters.'),
  like: lineSlugSchema,
})
export type CreatePreyLine = z.output<typeof createPreyLineSchema>

export const changeFigureSchema = z.strictObject({
  line: lineSlugSchema,
  /** the version of the figures that was on screen; 0 while they are the common ones */
  version: number,
  path: z.string().max(80),
  value: z.number('Enter a number.').optional(),
  note,
})
export type ChangeFigure = z.output<typeof changeFigureSchema>

/** The same over the wire, where a figure may also be a list of weekdays; the line and version are beside it. */
export const patchPreySchema = changeFigureSchema.omit({ line: true, version: true }).extend({
  value: z
    .union([z.number('Enter a number.'), z.array(z.number().int().min(1).max(7)).max(7)])
    .nullable()
    .optional()
    .meta({ description: 'a number, or weekdays with 1 for Monday' }),
})
export type ChangeAnyFigure = z.output<typeof patchPreySchema> & { line: string; version: number }

/** Monday first, a tick for each day. */
export const updateOrderDaysSchema = z.strictObject({
  line: lineSlugSchema,
  version: number,
  weekdays: z.array(z.boolean()).length(7),
  note,
})
export type ChangeOrderDays = z.output<typeof updateOrderDaysSchema>

export const updateKeptSchema = z.strictObject({
  line: lineSlugSchema,
  version: number,
  kept: z.boolean(),
})
export type KeepPreyLine = z.output<typeof updateKeptSchema>

export const newPreyOrderSchema = z.strictObject({
  line: lineSlugSchema,
  packs: z
    .number('Enter a number.')
    .int('Enter a whole number.')
    .min(1, 'At least one.')
    .max(1000, 'At most 1000.'),
  orderedOn: plainDateSchema,
  dueOn: plainDateSchema
    .optional()
    .meta({ description: 'left out: after the days the line takes to arrive' }),
})
export type NewPreyOrder = z.output<typeof newPreyOrderSchema>

export const updatePreyOrderSchema = z.strictObject({
  order: z.uuid(),
  version: z.number().int().positive(),
  as: z.enum(['arrived', 'cancelled']),
  on: plainDateSchema.optional(),
})
export type SettlePreyOrder = z.output<typeof updatePreyOrderSchema>

export const newPreyCountSchema = z.strictObject({
  line: lineSlugSchema,
  on: plainDateSchema,
  count: items.min(0, 'Not below nothing.'),
})
export type NewPreyCount = z.output<typeof newPreyCountSchema>

export const newPreyDepartureSchema = z.strictObject({
  line: lineSlugSchema,
  on: plainDateSchema,
  count: items.min(1, 'At least one.'),
  how: z.enum(['sold', 'fed_out', 'wasted'], 'Choose one.'),
})
export type NewPreyDeparture = z.output<typeof newPreyDepartureSchema>

const source = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('published'), citation: z.string() }),
  z.strictObject({ kind: z.literal('default') }),
  z.strictObject({ kind: z.literal('own'), note: z.string() }),
])

const preyAnswer = z
  .strictObject({
    id: z.string().meta({ description: 'as plans, cultures and orders name it' }),
    name: z.string(),
    kind: z.enum(['culture', 'pupae', 'bought']).meta({ description: 'how it is had' }),
    kept: z.boolean().meta({ description: 'only lines that are kept are planned with' }),
    isOwn: z.boolean(),
    version: z.number().int().meta({ description: 'of its figures; 0 while they are the common ones' }),
    values: z.array(
      z.strictObject({
        path: z.string(),
        label: z.string(),
        unit: z.string(),
        value: z.union([z.number(), z.array(z.number()), z.null()]),
        source,
        note: z.string().nullable(),
      }),
    ),
    curves: z.array(
      z.strictObject({
        zone: z.string(),
        temperatureC: z.number(),
        shares: z
          .array(z.number())
          .meta({ description: 'of the yield, per day after the start, day 0 first' }),
        learned: z
          .strictObject({
            cultures: z.number().int(),
            mean: z.number(),
            cv: z.number(),
            crashChance: z.number(),
            delayFactor: z.number().meta({ description: 'timing as a multiple of the default' }),
          })
          .nullable(),
      }),
    ),
  })
  .meta({ id: 'Prey' })
export type PreyAnswer = z.input<typeof preyAnswer>

export const preyApi = {
  list: describeApi({
    id: 'listPrey',
    method: 'get',
    path: '/prey',
    tag: 'Live food',
    summary: 'Prey lines: every figure with its source or “default”, curves and what was learned per zone',
    permission: 'live-food:read',
    answer: listAnswer(preyAnswer),
  }),
  update: describeApi({
    id: 'updatePreyFigure',
    method: 'patch',
    path: '/prey/{id}',
    tag: 'Live food',
    summary: 'Replace one figure of a line by your own; If-Match takes the version of its figures',
    permission: 'live-food:write',
    params: z.strictObject({ id: lineSlugSchema }),
    body: patchPreySchema,
    answer: preyAnswer,
  }),
}

/** The figures of a line as somebody may see them: costs are not for everybody. */
export function listSeenFigures({ line }: Pick<RoomLine, 'line'>, maySeeCosts: boolean): Figure[] {
  return listFigures(line).filter(({ isCost }) => maySeeCosts || !isCost)
}
