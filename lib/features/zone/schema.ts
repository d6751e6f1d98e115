import { z } from 'zod'
import { readTemperature } from '@/lib/domain/zone/temperature-unit'
import { watchAnswer, watchBody } from '@/lib/features/watch/schema'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const temperatureC = z
  .number('Enter a temperature.')
  .min(-30, 'Not below −30 °C.')
  .max(60, { error: ({ input }) => sayTooHot(Number(input)) })
/** Whoever types 79 has read a thermometer in °F. */
function sayTooHot(figure: number): string {
  const otherwise = Math.round(readTemperature(figure, 'fahrenheit'))
  return otherwise <= 45 ? `Not above 60 °C. If that is °F, it is ${otherwise} °C.` : 'Not above 60 °C.'
}
const name = z.string().trim().min(1, 'Give it a name.').max(60, 'At most 60 letters.')
const version = z.number().int().positive()

export const createZoneSchema = z.strictObject({
  name,
  setTemperatureC: temperatureC,
  nightTemperatureC: temperatureC.optional(),
  walkingOrder: z.number().int().min(0).max(999).optional(),
})
export type CreateZone = z.output<typeof createZoneSchema>

export const updateZoneSchema = z.strictObject({
  id: z.uuid(),
  version,
  name,
  walkingOrder: z.number().int('Enter a whole number.').min(0).max(999, 'At most 999.'),
})
export type UpdateZone = z.output<typeof updateZoneSchema>

export const recordSetPointSchema = z.strictObject({
  zoneId: z.uuid(),
  from: z.iso.date('Enter the day from which it holds.'),
  dayC: temperatureC,
  nightC: temperatureC.optional(),
})
export type RecordSetPoint = z.output<typeof recordSetPointSchema>

const quarantineFields = {
  until: plainDateSchema.optional(),
  reason: z.string().trim().max(300, 'At most 300 letters.').default(''),
}
/** Nothing leaves before the day; without one the quarantine is over. */
export const recordQuarantineSchema = z.strictObject({ id: z.uuid(), version, ...quarantineFields })
export type RecordQuarantine = z.output<typeof recordQuarantineSchema>

export const archiveZoneSchema = z.strictObject({ id: z.uuid(), version })
export type ArchiveZone = z.output<typeof archiveZoneSchema>

const zoneAnswer = z
  .strictObject({
    id: z.string(),
    name: z.string(),
    setTemperatureC: z.number().nullable().meta({ description: 'by day, in force today, °C' }),
    nightTemperatureC: z.number().nullable().meta({ description: 'null where the night is as the day' }),
    setPoints: z.array(
      z.strictObject({ from: z.iso.date(), dayC: z.number(), nightC: z.number().nullable() }),
    ),
    lastReading: z
      .strictObject({
        at: z.iso.datetime({ offset: true }),
        temperatureC: z.number(),
        humidityPct: z.number().nullable(),
      })
      .nullable(),
    quarantineUntil: z.iso
      .date()
      .nullable()
      .meta({ description: 'first day on which what stands here may leave' }),
    walkingOrder: z.number().int(),
    watch: watchAnswer.nullable().meta({ description: 'null where it was never watched' }),
    version,
  })
  .meta({ id: 'Zone' })
export type ZoneAnswer = z.input<typeof zoneAnswer>

export const zoneApi = {
  list: describeApi({
    id: 'listZones',
    method: 'get',
    path: '/zones',
    tag: 'Zones and containers',
    summary: 'Zones with the temperatures they are and were set to',
    permission: 'zone:read',
    answer: listAnswer(zoneAnswer),
  }),
  create: describeApi({
    id: 'createZone',
    method: 'post',
    path: '/zones',
    tag: 'Zones and containers',
    summary: 'Make a zone, set to a temperature from today',
    permission: 'zone:write',
    body: createZoneSchema,
    answer: zoneAnswer,
  }),
  quarantine: describeApi({
    id: 'recordQuarantine',
    method: 'patch',
    path: '/zones/{id}/quarantine',
    tag: 'Zones and containers',
    summary:
      'Until when nothing may leave a zone; without a day its quarantine is over. If-Match with the zone’s version',
    permission: 'zone:write',
    params: z.strictObject({ id: z.uuid() }),
    body: z.strictObject(quarantineFields),
    answer: zoneAnswer,
  }),
  watch: describeApi({
    id: 'recordZoneWatch',
    method: 'patch',
    path: '/zones/{id}/watch',
    tag: 'Zones and containers',
    summary:
      'What a zone is watched for and who is called, whole; If-Match with the version of its watch, 0 for none',
    permission: 'zone:write',
    params: z.strictObject({ id: z.uuid() }),
    body: watchBody,
    answer: zoneAnswer,
  }),
}
