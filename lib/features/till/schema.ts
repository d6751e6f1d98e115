import { z } from 'zod'

export const tillSchema = z.strictObject({
  version: z.number().int().min(0),
  pricesIncludeTax: z.boolean().default(false),
  retentionYears: z
    .number('Enter years, 0 where none.')
    .int('Enter whole years.')
    .min(0, 'Not below nothing.')
    .max(30, 'At most 30 years.'),
  receiptWords: z.string().trim().max(500, 'At most 500 letters.').default(''),
  certifiedTill: z.boolean().default(false),
})
export type TillInput = z.output<typeof tillSchema>
