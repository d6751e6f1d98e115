import type { Place } from './stock'

export async function placeReadings(place: Place, zone_id: string): Promise<void> {
  const at = '2026-03-20T08:00:00Z'
  const batch = { zone_id, source: 'typed', readings: 1, from_at: at, until_at: at }
  const batch_id = await place('reading_batch', batch)
  await place('reading', { zone_id, at, temperature_c: 25.5, humidity_pct: 60, batch_id })
  const hours_c = JSON.stringify(Array.from({ length: 24 }, (_, hour) => (hour === 9 ? 25.5 : null)))
  const sums = { readings: 1, mean_c: 25.5, min_c: 25.5, max_c: 25.5, humidity_pct: 60, hours_c, parts_c: [] }
  await place('zone_day', { zone_id, on: '2026-03-20', ...sums })
}

export async function placeWatch(
  place: Place,
  { zone_id, person_id, note }: { zone_id: string; person_id: string; note: string },
): Promise<void> {
  const since_at = '2026-03-01T00:00:00Z'
  await place('zone_watch', { zone_id, low_c: 18, high_c: 30, silence_minutes: 60, since_at })
  await place('zone_watcher', { zone_id, person_id })
  await place('watch_look', { zone_id })
  const span = { began_at: '2026-03-20T13:00:00Z', ended_at: '2026-03-20T15:00:00Z' }
  await place('zone_incident', { zone_id, kind: 'too_hot', ...span, extreme_c: 33.5, limit_c: 30, note })
}
