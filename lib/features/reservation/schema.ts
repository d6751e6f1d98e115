import { z } from 'zod'
import { listAnswer } from '@/lib/platform/api/list'
import { describeApi } from '@/lib/platform/api/operation'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

const version = z.number().int().positive()

export const createReservationSchema = z.strictObject({
  buyer: z.uuid('Choose one.'),
  individuals: z.array(z.uuid()).min(1, 'Choose at least one.').max(50, 'At most 50 at once.'),
  until: plainDateSchema.meta({ description: 'the last day on which they are held' }),
})
export type CreateReservation = z.output<typeof createReservationSchema>

/** The screen asks for labels, as they stand on the cups. */
export const reservationFormSchema = z.strictObject({
  buyer: z.uuid('Choose one.'),
  labels: z.string().trim().min(1, 'Enter the labels of the cups.').max(400, 'At most 400 letters.'),
  until: plainDateSchema,
})
export type ReservationForm = z.output<typeof reservationFormSchema>

export const endReservationSchema = z.strictObject({ id: z.uuid(), version })
export type EndReservation = z.output<typeof endReservationSchema>

const reservationAnswer = z
  .strictObject({
    id: z.string(),
    buyer: z.string(),
    individual: z.string(),
    label: z.string(),
    madeOn: plainDateSchema,
    until: plainDateSchema,
    version,
  })
  .meta({ id: 'Reservation' })

const tag = 'Sales'
export const reservationApi = {
  list: describeApi({
    id: 'listReservations',
    method: 'get',
    path: '/reservations',
    tag,
    summary: 'Animals held for somebody today, soonest end first',
    permission: 'reservation:read',
    answer: listAnswer(reservationAnswer),
  }),
  create: describeApi({
    id: 'createReservation',
    method: 'post',
    path: '/reservations',
    tag,
    summary: 'Hold animals for a buyer through a day; the hold ends by itself',
    permission: 'reservation:write',
    body: createReservationSchema,
    answer: listAnswer(reservationAnswer),
  }),
  end: describeApi({
    id: 'endReservation',
    method: 'post',
    path: '/reservations/{id}/release',
    tag,
    summary: 'Let an animal go free again; If-Match with the version',
    permission: 'reservation:write',
    params: z.strictObject({ id: z.uuid() }),
    body: z.strictObject({
      version: version.optional().meta({ description: 'the version that was looked at, as If-Match' }),
    }),
    answer: z.strictObject({ id: z.string() }),
  }),
}
