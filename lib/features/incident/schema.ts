import { z } from 'zod'
import { listAnswer, pageQuery } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'

const note = z.string().trim().max(2000, 'At most 2000 letters.')
const takingFields = { note: note.optional() }
export const takeIncidentSchema = z.strictObject({ id: z.uuid(), ...takingFields })
export type TakeIncident = z.output<typeof takeIncidentSchema>
export const noteIncidentSchema = z.strictObject({
  id: z.uuid(),
  version: z.number().int().positive(),
  note: note.default(''),
})
export type NoteIncident = z.output<typeof noteIncidentSchema>

const incidentAnswer = z
  .strictObject({
    id: z.string(),
    zone: z.string(),
    kind: z.enum(['too_hot', 'too_cold', 'silent']),
    from: z.iso.datetime(),
    until: z.iso.datetime().nullable().meta({ description: 'null while it lasts' }),
    extremeC: z.number().nullable().meta({ description: 'the reading furthest outside; null for a silence' }),
    limitC: z.number().nullable(),
    noDispatchUntil: z.iso
      .datetime()
      .nullable()
      .meta({ description: '48 hours after its end; null while it lasts, and for a silence' }),
    takenAt: z.iso.datetime().nullable(),
    takenBy: z.string().nullable().meta({ description: 'name of the person' }),
    note: z.string(),
    version: z.number().int(),
  })
  .meta({ id: 'Incident' })
export type IncidentAnswer = z.output<typeof incidentAnswer>

const incidentParams = z.strictObject({ id: z.uuid() })
const open = z.enum(['true', 'false']).transform((said) => said === 'true')

export const incidentApi = {
  list: describeApi({
    id: 'listIncidents',
    method: 'get',
    path: '/incidents',
    tag: 'Zones and containers',
    summary: 'Times in which a watched zone was too hot, too cold or sent nothing, newest first',
    permission: 'zone:read',
    query: z.strictObject({ ...pageQuery.shape, zone: z.uuid().optional(), open: open.optional() }),
    answer: listAnswer(incidentAnswer),
  }),
  take: describeApi({
    id: 'takeIncident',
    method: 'post',
    path: '/incidents/{id}/taking',
    tag: 'Zones and containers',
    summary: 'Say that somebody looks after it, so that nobody is called any more',
    permission: 'incident:take',
    params: incidentParams,
    body: z.strictObject(takingFields),
    answer: incidentAnswer,
  }),
}
