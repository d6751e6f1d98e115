import { z } from 'zod'

/** The page of one animal, egg case or lot. */
export const revokePublicLinkSchema = z
  .strictObject({
    individual: z.uuid().optional(),
    eggCase: z.uuid().optional(),
    lot: z.uuid().optional(),
    version: z.number().int().positive(),
  })
  .refine(({ individual, eggCase, lot }) => [individual, eggCase, lot].filter(Boolean).length === 1, {
    message: 'Say of which one animal, egg case or lot.',
  })
export type RevokePublicLink = z.output<typeof revokePublicLinkSchema>
