import { z } from 'zod'

/** Whose mail it is follows from who asks. */
export const dayMailSchema = z.strictObject({
  version: z.number().int().min(0),
  hour: z.coerce.number<string | number>('Choose an hour.').int().min(0).max(23),
})
export type DayMailSetting = z.output<typeof dayMailSchema>

export const dayMailEndSchema = z.strictObject({ version: z.number().int().positive() })

export const HOURS = Array.from({ length: 24 }, (_, hour) => hour)
