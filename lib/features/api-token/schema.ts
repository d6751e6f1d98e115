import { z } from 'zod'
import { ROLES } from '@/lib/domain/role/permissions'

export const TOKEN_DAYS = [30, 90, 365, 730] as const

export const createApiTokenSchema = z.strictObject({
  name: z.string().trim().min(1, 'Say what it is for.').max(80, 'At most 80 letters.'),
  role: z.enum(ROLES, 'Choose a role.'),
  days: z.coerce.number<string | number>().int().min(1, 'At least one day.').max(730, 'At most two years.'),
})
export type CreateApiToken = z.output<typeof createApiTokenSchema>

export const revokeApiTokenSchema = z.strictObject({ id: z.uuid() })
