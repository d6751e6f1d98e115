import { z } from 'zod'
import { OVERRIDABLE, type OverridableCode } from '@/lib/domain/role/overrides'
import { warningSchema } from '@/lib/features/individual/schema'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

export const clearanceSchema = z.strictObject({
  on: plainDateSchema.optional().meta({ description: 'the day it may leave; today where left out' }),
  reason: z.string().trim().min(1, 'Say why it may leave all the same.').max(300, 'At most 300 letters.'),
})
export const clearanceFormSchema = clearanceSchema.extend({ individual: z.uuid() })
export type ClearanceInput = z.output<typeof clearanceFormSchema>

export const archiveClearanceSchema = z.strictObject({
  clearance: z.uuid(),
  version: z.number().int().positive(),
})
export type ArchiveClearance = z.output<typeof archiveClearanceSchema>

export type ClearanceRow = {
  id: string
  individualId: string
  codes: OverridableCode[]
  reason: string
  by: string | null
  version: number
}

export const clearanceApi = {
  create: describeApi({
    id: 'clearIndividual',
    method: 'post',
    path: '/individuals/{id}/clearances',
    tag: 'Animals',
    summary:
      'Let an animal leave on a day although something speaks against it, as far as the role may override it',
    permission: 'individual:clear',
    params: z.strictObject({ id: z.uuid() }),
    body: clearanceSchema,
    answer: z.strictObject({
      id: z.string(),
      codes: z.array(z.enum(OVERRIDABLE)),
      warnings: z.array(warningSchema),
    }),
  }),
}
