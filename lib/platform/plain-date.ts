import type { PlainDate } from '@/lib/domain/calendar/date'

// `date` columns arrive as midnight UTC: only the day in UTC means anything.

export function toPlainDate(stored: Date): PlainDate {
  return stored.toISOString().slice(0, 10)
}

export function toPlainDateOrNull(stored: Date | null): PlainDate | null {
  return stored && toPlainDate(stored)
}

export function fromPlainDate(on: PlainDate): Date {
  return new Date(`${on}T00:00:00.000Z`)
}

export function fromPlainDateOrNull(on: PlainDate | null | undefined): Date | null {
  return on ? fromPlainDate(on) : null
}

/** Today's date where the workspace stands. */
export function todayIn(timeZone: string, now: Date = new Date()): PlainDate {
  return new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).format(now)
}
