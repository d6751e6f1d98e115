import { z } from 'zod'
import type { HandedRecord } from '@/lib/domain/hand-over/record'
import { warningSchema } from '@/lib/features/individual/schema'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

export const MOST_HANDED_OVER = 200

export const newHandOverSchema = z.strictObject({
  individuals: z
    .array(z.uuid())
    .min(1, 'At least one animal.')
    .max(MOST_HANDED_OVER, `At most ${MOST_HANDED_OVER} at once.`),
  toName: z.string().trim().max(120, 'At most 120 letters.').default(''),
  note: z.string().trim().max(500, 'At most 500 letters.').default(''),
})
export type NewHandOver = z.output<typeof newHandOverSchema>

export const withdrawSchema = z.strictObject({ id: z.uuid(), version: z.number().int().positive() })
export type Withdrawal = z.output<typeof withdrawSchema>

export const takeOverSchema = z.strictObject({
  code: z.string().trim().min(1, 'Paste the code you were given.').max(200),
  containerKind: z.uuid('Choose what they go into.'),
  zone: z.uuid('Choose where they go.'),
})
export type TakeOver = z.output<typeof takeOverSchema>

/** What was handed over, as it stands with the side that gave it. */
export type HandedOver = { origin: string; from: string; records: HandedRecord[] }

const handOverAnswer = z
  .strictObject({
    id: z.string(),
    toName: z.string(),
    note: z.string(),
    offeredOn: plainDateSchema,
    withdrawnOn: plainDateSchema.nullable(),
    acceptedOn: plainDateSchema.nullable(),
    animals: z.array(
      z.strictObject({
        individual: z.string(),
        label: z.string(),
        hasLeft: z.boolean().meta({ description: 'it went with this hand-over' }),
      }),
    ),
    version: z.number().int(),
  })
  .meta({ id: 'HandOver' })
export type HandOverAnswer = z.input<typeof handOverAnswer>

const tag = 'Animals'
const params = z.strictObject({ id: z.uuid() })

export const handOverApi = {
  list: describeApi({
    id: 'listHandOvers',
    method: 'get',
    path: '/hand-overs',
    tag,
    summary: 'Animals offered to other workspaces, newest first',
    permission: 'individual:read',
    answer: listAnswer(handOverAnswer),
  }),
  load: describeApi({
    id: 'loadHandOver',
    method: 'get',
    path: '/hand-overs/{id}',
    tag,
    summary: 'One offer',
    permission: 'individual:read',
    params,
    answer: handOverAnswer,
  }),
  create: describeApi({
    id: 'createHandOver',
    method: 'post',
    path: '/hand-overs',
    tag,
    summary: 'Offer animals to whoever is given the code. They stay here until somebody takes them',
    permission: 'individual:write',
    body: newHandOverSchema,
    answer: handOverAnswer,
  }),
  code: describeApi({
    id: 'showHandOverCode',
    method: 'post',
    path: '/hand-overs/{id}/code',
    tag,
    summary: 'The code of an open offer. It changes nothing, and its answer is kept nowhere',
    permission: 'individual:write',
    isUnkept: true,
    params,
    body: z.strictObject({
      version: z.number().int().positive().optional().meta({ description: 'not needed, and not looked at' }),
    }),
    answer: z.strictObject({ code: z.string() }),
  }),
  withdraw: describeApi({
    id: 'endHandOver',
    method: 'post',
    path: '/hand-overs/{id}/withdrawal',
    tag,
    summary: 'Nobody can take them any more; If-Match with the version',
    permission: 'individual:write',
    params,
    body: z.strictObject({
      version: z
        .number()
        .int()
        .positive()
        .optional()
        .meta({ description: 'the version that was looked at, as If-Match' }),
    }),
    answer: handOverAnswer,
  }),
  accept: describeApi({
    id: 'recordTakeOver',
    method: 'post',
    path: '/take-overs',
    tag,
    summary: 'Take over animals that another workspace offers, by the code. Each animal arrives once',
    permission: 'individual:write',
    body: takeOverSchema,
    answer: z.strictObject({
      from: z.string(),
      individuals: z.array(z.string()),
      warnings: z.array(warningSchema),
    }),
  }),
}
