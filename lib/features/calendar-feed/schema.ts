import { z } from 'zod'

/** Whose calendar it is follows from who asks; nothing is typed. */
export const calendarFeedSchema = z.strictObject({})

export const calendarQuerySchema = z.strictObject({ key: z.string().max(80) })
