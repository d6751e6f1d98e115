import { daysInMonth, type PlainDate } from '../calendar/date'

/**
 * The first day on which nothing has to be kept of a buyer any more: so many years after the last receipt that names
 * them. Null where no receipt does, or no duty is known. 29 February becomes the 28th.
 */
export function retentionUntil(lastSaleOn: PlainDate | null, years: number): PlainDate | null {
  if (lastSaleOn === null || years <= 0) return null
  const [year = 0, month = 1, day = 1] = lastSaleOn.split('-').map(Number)
  const kept = Math.min(day, daysInMonth(year + years, month))
  return [year + years, pad(month), pad(kept)].join('-')
}

const pad = (part: number) => String(part).padStart(2, '0')

export type Erasure = { status: 'now' } | { status: 'waits'; until: PlainDate }

/** Whether a person may be forgotten today, or until when a duty to keep their receipts runs. */
export function planErasure(
  asked: { lastSaleOn: PlainDate | null; retentionYears: number },
  today: PlainDate,
): Erasure {
  const until = retentionUntil(asked.lastSaleOn, asked.retentionYears)
  return until === null || until <= today ? { status: 'now' } : { status: 'waits', until }
}

export const PERSONAL_FIELDS = ['name', 'email', 'phone', 'address', 'note'] as const
export type PersonalField = (typeof PERSONAL_FIELDS)[number]
export type PersonalFields = Record<PersonalField, string>

/** What a receipt that names its buyer needs; the rest goes at once when an erasure has to wait. */
export const ON_RECEIPTS: readonly PersonalField[] = ['name', 'address']

/** The names of the personal fields that differ: all that the audit trail may know of the change. */
export function changedPersonalFields(before: PersonalFields, after: PersonalFields): PersonalField[] {
  return PERSONAL_FIELDS.filter((field) => before[field] !== after[field])
}
