import { z } from 'zod'
import { ROLES } from '@/lib/domain/role/permissions'

export const role = z.enum(ROLES, 'Choose a role.')

export const changeRoleSchema = z.strictObject({
  personId: z.uuid(),
  version: z.number().int().positive(),
  role,
})
export type ChangeRole = z.output<typeof changeRoleSchema>

export const endMembershipSchema = z.strictObject({ personId: z.uuid() })
