import { z } from 'zod'
import { clutchAnswer } from '@/lib/features/clutch/schema'
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

/** Siblings to another zone, into a box of a kind, or into one that stands there empty. */
export const clutchHousingSchema = z
  .strictObject({
    on: plainDateSchema,
    zone: z.uuid('Choose one.').optional(),
    containerKind: z.uuid('Choose one.').optional(),
    container: z.uuid().optional(),
    /** why they stay together although their day to be apart has come */
    overrideReason: z.string().trim().max(300, 'At most 300 letters.').default(''),
  })
  .refine((move) => !(move.containerKind && move.container), {
    path: ['container'],
    message: 'A kind of container or one container, not both.',
  })
  .refine((move) => move.containerKind || move.container || move.zone, {
    path: ['containerKind'],
    message: 'Say where they were put: a zone, a kind of container, or both.',
  })
export const clutchHousingFormSchema = clutchHousingSchema.safeExtend({ clutch: z.uuid() })
export type ClutchHousingForm = z.output<typeof clutchHousingFormSchema>

/** Each animal into the container it needs next. */
export const movesUpFormSchema = z.strictObject({
  on: plainDateSchema,
  moves: z
    .array(z.strictObject({ individual: z.uuid(), containerKind: z.uuid() }))
    .min(1, 'Choose at least one.')
    .max(500),
})
export type MovesUpForm = z.output<typeof movesUpFormSchema>

export const housingApi = {
  moveClutch: describeApi({
    id: 'moveClutch',
    method: 'post',
    path: '/clutches/{id}/moves',
    tag: 'Clutches',
    summary: 'Put the siblings who are together into another zone or a box',
    permission: 'clutch:write',
    params: individualParams,
    body: clutchHousingSchema,
    answer: z.strictObject({ clutch: clutchAnswer, warnings: z.array(warningSchema) }),
  }),
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
