import { z } from 'zod'
import { MOST_READINGS } from '@/lib/domain/zone/reading-text'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const humidityPct = z.number('Enter the humidity.').min(0, 'Not below 0 %.').max(100, 'Not above 100 %.')
const instant = z.iso.datetime({ offset: true, error: 'Write an instant such as 2026-11-24T08:00:00Z.' })

/** One reading, typed in. Its time is that of the clock on the workspace's wall. */
export const typedReadingSchema = z.strictObject({
  zoneId: z.uuid(),
  on: plainDateSchema,
  time: z.string('Enter the time.').regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'Enter the time, as 18:30.'),
  temperature: z.number('Enter a temperature.'),
  unit: z.enum(['celsius', 'fahrenheit'], 'Choose one.'),
  humidityPct: humidityPct.optional(),
  /** asked whether it was read in the other unit: it was not */
  isSure: z.boolean().default(false),
})
export type TypedReading = z.input<typeof typedReadingSchema>

/** Many lines as they were copied out of somewhere; read again here, whole or not at all. */
export const pastedReadingsSchema = z.strictObject({
  zoneId: z.uuid(),
  text: z
    .string('Paste some readings.')
    .min(1, 'Paste some readings.')
    .max(900_000, 'That is too much at once.'),
  unit: z.enum(['celsius', 'fahrenheit']),
  /** asked whether the figures are in the other unit: they are not */
  isSure: z.boolean().default(false),
})
export type PastedReadings = z.input<typeof pastedReadingsSchema>

export const takeBackReadingsSchema = z.strictObject({ batchId: z.uuid() })

export const sensorReading = z
  .strictObject({
    at: instant,
    temperatureC: z.number(),
    humidityPct: humidityPct.optional(),
    isSure: z
      .boolean()
      .optional()
      .meta({ description: 'it is °C although it would fit better as °F: not asked about' }),
  })
  .meta({ id: 'NewReading' })
export const sensorReadingsSchema = z
  .array(sensorReading)
  .min(1, 'Send at least one reading.')
  .max(MOST_READINGS, `At most ${MOST_READINGS} readings a call.`)

const readingsParams = z.strictObject({ id: z.uuid() })

const batchAnswer = z
  .strictObject({
    zone: z.string(),
    received: z.number().int(),
    added: z.number().int(),
    replaced: z.number().int().meta({ description: 'readings of the same instant with another value' }),
    unchanged: z.number().int().meta({ description: 'readings that were there already' }),
    from: z.iso.datetime(),
    until: z.iso.datetime(),
  })
  .meta({ id: 'ReadingsTaken' })
export type ReadingsTaken = z.output<typeof batchAnswer>

const readingAnswer = z
  .strictObject({
    at: z.iso.datetime(),
    temperatureC: z.number(),
    humidityPct: z.number().nullable(),
  })
  .meta({ id: 'Reading' })

export const readingQuery = z.strictObject({
  from: instant.optional(),
  until: instant.optional(),
  limit: z.coerce.number().int().min(1).max(MOST_READINGS).default(500),
  cursor: instant.optional(),
})
export type ReadingQuery = z.output<typeof readingQuery>

export const readingApi = {
  list: describeApi({
    id: 'listReadings',
    method: 'get',
    path: '/zones/{id}/readings',
    tag: 'Zones and containers',
    summary: 'Readings of a zone between two instants, oldest first',
    permission: 'zone:read',
    params: readingsParams,
    query: readingQuery,
    answer: listAnswer(readingAnswer),
  }),
  record: describeApi({
    id: 'recordReadings',
    method: 'post',
    path: '/zones/{id}/readings',
    tag: 'Zones and containers',
    summary: 'Temperatures and humidities of a zone, oldest first, up to 10,000 a call, all or none of them',
    permission: 'zone:write',
    params: readingsParams,
    body: sensorReadingsSchema,
    answer: batchAnswer,
  }),
}
