import { z } from 'zod'

const limitC = z.number('Enter a temperature.').min(-40, 'Not below −40 °C.').max(70, 'Not above 70 °C.')

const watchFields = {
  lowC: limitC.optional(),
  highC: limitC.optional(),
  delayMinutes: z
    .number('Enter the minutes.')
    .int('Whole minutes.')
    .min(0, 'Not below 0.')
    .max(1440, 'At most a day, 1440 minutes.'),
  silenceMinutes: z
    .number('Enter the minutes.')
    .int('Whole minutes.')
    .min(5, 'At least 5 minutes.')
    .max(10_080, 'At most a week, 10080 minutes.')
    .optional(),
  /** ids of people here; they are called until one of them takes it */
  watchers: z.array(z.uuid()).max(50, 'At most 50 people.'),
}

type Limits = { lowC?: number | undefined; highC?: number | undefined }
const inOrder = ({ lowC, highC }: Limits) => lowC === undefined || highC === undefined || lowC < highC
const ORDER = { path: ['highC'], message: 'The upper limit is above the lower one.' }

/** What a zone is watched for, whole: what is left out is no longer watched for. Version 0: not watched so far. */
export const recordWatchSchema = z
  .strictObject({ zoneId: z.uuid(), version: z.number().int().min(0), ...watchFields })
  .refine(inOrder, ORDER)
export type RecordWatch = z.output<typeof recordWatchSchema>

/** The same as the body of a call. */
export const watchBody = z.strictObject(watchFields).refine(inOrder, ORDER)

export const watchAnswer = z
  .strictObject({
    lowC: z.number().nullable(),
    highC: z.number().nullable(),
    delayMinutes: z.number().int(),
    silenceMinutes: z.number().int().nullable(),
    watchers: z.array(z.string()).meta({ description: 'ids of the people who are called' }),
    version: z.number().int().meta({ description: 'for If-Match' }),
  })
  .meta({ id: 'ZoneWatch' })
