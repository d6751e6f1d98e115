import { z } from 'zod'
import { lineSlugSchema } from '@/lib/features/prey/schema'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const version = z.number().int().min(0)
/** Monday first, a tick for each day. */
const week = z.array(z.boolean()).length(7)
const someDay = week.refine((days) => days.some(Boolean), 'Choose at least one day.')

const MOUTH_FIELDS = {
  name: z.string().trim().min(1, 'Give it a name.').max(60, 'At most 60 letters.'),
  line: lineSlugSchema,
  itemsEachTime: z
    .number('Enter a number.')
    .int('Enter a whole number.')
    .min(1, 'At least one.')
    .max(100_000, '100,000 at most.'),
  weekdays: someDay,
  from: z.union([z.literal('').transform(() => undefined), plainDateSchema]).optional(),
  until: z.union([z.literal('').transform(() => undefined), plainDateSchema]).optional(),
}

export const createMouthSchema = z
  .strictObject(MOUTH_FIELDS)
  .refine(({ from, until }) => !from || !until || until >= from, {
    path: ['until'],
    message: 'This is before the first day.',
  })
export type CreateMouth = z.output<typeof createMouthSchema>

export const archiveMouthSchema = z.strictObject({ mouth: z.uuid(), version: z.number().int().positive() })
export type ArchiveMouth = z.output<typeof archiveMouthSchema>

export const updateFoodLimitsSchema = z.strictObject({
  version,
  shelfPlaces: z
    .number('Enter a number.')
    .int('Enter a whole number.')
    .min(0, 'Not below nothing.')
    .max(5000, 'At most 5000.')
    .optional(),
  minutesPerStartDay: z
    .number('Enter minutes.')
    .int('Enter whole minutes.')
    .min(0, 'Not below nothing.')
    .max(1440, 'A day has 1440 minutes.')
    .optional(),
  startWeekdays: someDay,
  servicePercent: z.number('Enter a percentage.').min(50, 'At least 50 %.').max(99.9, 'At most 99.9 %.'),
})
export type UpdateFoodLimits = z.output<typeof updateFoodLimitsSchema>

export const recordClosedDaySchema = z
  .strictObject({
    side: z.enum(['room', 'supplier'], 'Choose one.'),
    on: plainDateSchema,
    until: z.union([z.literal('').transform(() => undefined), plainDateSchema]).optional(),
    isClosed: z.boolean().default(true),
    note: z.string().trim().max(200, 'At most 200 letters.').default(''),
  })
  .refine(({ on, until }) => !until || until >= on, {
    path: ['until'],
    message: 'This is before the first day.',
  })
export type RecordClosedDay = z.output<typeof recordClosedDaySchema>
