import { z } from 'zod'
import { LOSS_CAUSES } from '@/lib/domain/head-count/loss-cause'
import { individualParams, individualWithWarnings, placeFields } from '@/lib/features/individual/schema'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const text = (length: number) => z.string().trim().max(length)

export const deathSchema = z.strictObject({
  on: plainDateSchema,
  cause: z.enum(LOSS_CAUSES).default('unknown'),
  note: text(500).default(''),
})

/** Dead, escaped or given away: one animal, or all that were chosen. */
export const leavingFormSchema = z.strictObject({
  individuals: z.array(z.uuid()).min(1, 'Choose at least one.').max(500),
  on: plainDateSchema,
  to: z.enum(['dead', 'escaped', 'given_away']),
  cause: z.enum(LOSS_CAUSES).default('unknown'),
  note: text(500).default(''),
})
export type Leaving = z.output<typeof leavingFormSchema>

/** Found again, brought back, or entered by mistake: the last leaving is taken back. */
export const returnSchema = z.strictObject({
  on: plainDateSchema,
  note: text(500).default(''),
  ...placeFields,
})
export const returnFormSchema = returnSchema.extend({ individual: z.uuid() })
export type Return = z.output<typeof returnFormSchema>

export const departureApi = {
  die: describeApi({
    id: 'recordDeath',
    method: 'post',
    path: '/individuals/{id}/deaths',
    tag: 'Animals',
    summary: 'Record a death and its cause',
    permission: 'individual:place',
    params: individualParams,
    body: deathSchema,
    answer: individualWithWarnings,
  }),
  bringBack: describeApi({
    id: 'returnIndividual',
    method: 'post',
    path: '/individuals/{id}/returns',
    tag: 'Animals',
    summary: 'Take back the last death, escape or giving away, and house the animal again',
    permission: 'individual:place',
    params: individualParams,
    body: returnSchema,
    answer: individualWithWarnings,
  }),
}
