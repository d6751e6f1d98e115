import { z } from 'zod'
import { isPlainDate, type PlainDate } from '@/lib/domain/calendar/date'
import { refuseField } from '@/lib/platform/errors'

const NO_DAY = { error: 'Enter a day that exists, as year-month-day.', abort: true }

/**
 * A calendar day as it is typed and sent: `YYYY-MM-DD`. Where it is none, nothing is asked that would count days from it:
 * the refinements of the object around it do not run.
 */
export const plainDateSchema = z.iso.date(NO_DAY).refine(isPlainDate, NO_DAY)

/** `?asOf=`: what was known at the end of that day, counted by each record's own day. */
export const asOfSchema = plainDateSchema.optional()

/**
 * What has been done lies on or before today.
 * @throws AppError invalid at the field
 */
export function refuseFuture(path: string, on: PlainDate | null | undefined, today: PlainDate): void {
  if (on && on > today) throw refuseField(path, 'This day is in the future.')
}

/** The day to look from: the one asked for, but never one that has not come. */
export function asOfOrToday(asOf: PlainDate | undefined, today: PlainDate): PlainDate {
  refuseFuture('asOf', asOf, today)
  return asOf ?? today
}
