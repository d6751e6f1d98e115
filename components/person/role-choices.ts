import { ROLE_SENTENCES, ROLES } from '@/lib/domain/role/permissions'

/** Each role with what it means, where one is chosen. */
export const ROLE_CHOICES = ROLES.map((role) => ({
  value: role,
  label: role.charAt(0).toUpperCase() + role.slice(1),
  hint: ROLE_SENTENCES[role],
}))
