import { z } from 'zod'

export const revokePublicLinkSchema = z.strictObject({
  individual: z.uuid(),
  version: z.number().int().positive(),
})
export type RevokePublicLink = z.output<typeof revokePublicLinkSchema>
