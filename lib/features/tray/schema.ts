import { z } from 'zod'
import { warningAnswer } from '@/lib/features/clutch/schema'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const count = z.number('Enter a number.').int().min(1, 'At least one.').max(1000)
const id = z.uuid()

export const trayTakingSchema = z.strictObject({
  count,
  moults: z
    .number()
    .int()
    .min(0)
    .max(14)
    .optional()
    .meta({ description: 'of this stage; of whichever where left out' }),
})
export const trayTakingFormSchema = z.strictObject({
  tray: id,
  count,
  moults: z
    .union([z.literal('').transform(() => undefined), z.coerce.number().int().min(0).max(14)])
    .optional(),
})
export type TrayTaking = z.output<typeof trayTakingSchema> & { tray: string }

export const trayMoultsSchema = z.strictObject({ count, on: plainDateSchema })
export const trayMoultsFormSchema = trayMoultsSchema.extend({ tray: id })
export type TrayMoults = z.output<typeof trayMoultsFormSchema>

export const trayFeedingFormSchema = z.strictObject({
  tray: id,
  on: plainDateSchema,
  result: z.enum(['ate', 'refused']),
  prey: z.string().trim().max(60).default(''),
})
export type TrayFeeding = z.output<typeof trayFeedingFormSchema>

const trayAnswer = z
  .strictObject({
    id: z.string(),
    label: z.string(),
    clutch: z.string(),
    on: z.string(),
    count: z.number().int(),
  })
  .meta({ id: 'Tray' })

const params = z.strictObject({ id })
const TAG = 'Animals'

export const trayApi = {
  list: describeApi({
    id: 'listTrays',
    method: 'get',
    path: '/trays',
    tag: TAG,
    summary: 'Cups of one clutch that are kept as one, with how many stand there',
    permission: 'individual:read',
    answer: listAnswer(trayAnswer),
  }),
  take: describeApi({
    id: 'takeFromTray',
    method: 'post',
    path: '/trays/{id}/takings',
    tag: TAG,
    summary: 'Take animals off a tray: each has its own label from then on',
    permission: 'individual:write',
    params,
    body: trayTakingSchema,
    answer: z.strictObject({
      individuals: z.array(z.strictObject({ id: z.string(), label: z.string() })),
      left: z.number().int(),
    }),
  }),
  moult: describeApi({
    id: 'recordTrayMoults',
    method: 'post',
    path: '/trays/{id}/moults',
    tag: TAG,
    summary: 'Record how many of a tray have moulted; those with the fewest moults before come first',
    permission: 'individual:write',
    params,
    body: trayMoultsSchema,
    answer: z.strictObject({ recorded: z.number().int(), warnings: z.array(warningAnswer) }),
  }),
}
