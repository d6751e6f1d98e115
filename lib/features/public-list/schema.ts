import { z } from 'zod'

/** Opens the list for everybody who has its address, or changes what it says. */
export const publishListSchema = z.strictObject({ saysCounts: z.boolean().default(false) })
export type PublishingList = z.output<typeof publishListSchema>

export const closeListSchema = z.strictObject({ version: z.number().int().positive() })
