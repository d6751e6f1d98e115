import { z } from 'zod'
import { OVERRIDABLE, SAFE_OVERRIDES } from '@/lib/domain/role/overrides'

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
  counterOverrides: z
    .array(z.enum(OVERRIDABLE))
    .max(OVERRIDABLE.length)
    .default([...SAFE_OVERRIDES.counter]),
  keeperOverrides: z
    .array(z.enum(OVERRIDABLE))
    .max(OVERRIDABLE.length)
    .default([...SAFE_OVERRIDES.keeper]),
})
/** Where nobody says who may override what, what was set stays. */
export type TillInput = Omit<z.output<typeof tillSchema>, 'counterOverrides' | 'keeperOverrides'> &
  Partial<Pick<z.output<typeof tillSchema>, 'counterOverrides' | 'keeperOverrides'>>
