import { z } from 'zod'
import { individualAnswer, individualParams, warningSchema } from '@/lib/features/individual/schema'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

/** To another zone in its container, into a fresh container of a kind, or into one that stands there empty. */
export const moveSchema = z
  .strictObject({
    on: plainDateSchema,
    containerKind: z.uuid().optional(),
    container: z.uuid().optional(),
    zone: z.uuid().optional(),
  })
  .refine((move) => !(move.containerKind && move.container), {
    path: ['container'],
    message: 'A kind of container or one container, not both.',
  })
  .refine((move) => move.containerKind || move.container || move.zone, {
    path: ['zone'],
    message: 'Say where it was moved: a zone, a kind of container, or both.',
  })
export type Move = z.output<typeof moveSchema>

export const moveFormSchema = z.strictObject({
  individuals: z.array(z.uuid()).min(1, 'Choose at least one.').max(500),
  on: plainDateSchema,
  containerKind: z.union([z.uuid(), z.literal('same')]),
  zone: z.union([z.uuid(), z.literal('same')]),
})
export type MoveForm = z.output<typeof moveFormSchema>

export const housingApi = {
  move: describeApi({
    id: 'moveIndividual',
    method: 'post',
    path: '/individuals/{id}/moves',
    tag: 'Animals',
    summary: 'Move an animal to another zone or container',
    permission: 'individual:place',
    params: individualParams,
    body: moveSchema,
    answer: z.strictObject({ individual: individualAnswer, warnings: z.array(warningSchema) }),
  }),
}
