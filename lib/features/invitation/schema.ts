import { z } from 'zod'
import { ROLES } from '@/lib/domain/role/permissions'

export const INVITATION_DAYS = 7

export const createInvitationSchema = z.strictObject({
  email: z.email('This is not a mail address.').max(200, 'At most 200 letters.'),
  role: z.enum(ROLES, 'Choose a role.'),
})
export type CreateInvitation = z.output<typeof createInvitationSchema>

export const revokeInvitationSchema = z.strictObject({ id: z.uuid() })

export const acceptInvitationSchema = z.strictObject({ token: z.string().min(20).max(200) })
