import type { Place } from './stock'

type Reminded = { personId: string; mark: string; hash: (text: string) => Buffer }

/** A calendar address that was taken back, a date, and the day sheet by mail at seven. */
export async function placeReminders(place: Place, { personId, mark, hash }: Reminded): Promise<void> {
  const feed = { person_id: personId, token_hash: hash(`${mark} calendar`), revoked_at: '2026-03-01' }
  await place('calendar_feed', feed)
  const days = { starts_on: '2026-03-20', ends_on: '2026-03-22' }
  await place('calendar_date', { key: `hatch-${mark}`, ...days, title: mark, details: mark, path: '' })
  await place('day_mail', { person_id: personId, hour: 7 })
}
