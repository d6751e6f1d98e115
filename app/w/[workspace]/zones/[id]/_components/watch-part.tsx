import { writeCount } from '@/lib/domain/calendar/wording'
import { type TemperatureUnit, writeTemperature } from '@/lib/domain/zone/temperature-unit'
import type { WatchRow } from '@/lib/features/watch/data'
import type { ZonePage } from '@/lib/features/zone/loaders'
import { SetWatch } from './set-watch'

/** What the zone is watched for, who is called, and the way to change it. */
export function WatchPart({ workspace, page }: { workspace: string; page: ZonePage }) {
  const { zone, watch, people, unit, mayWrite } = page
  const called = people.filter(({ personId }) => watch?.watchers.includes(personId))
  const said = watch ? sayWatch(watch, unit) : ''
  return (
    <section>
      <h2 className="mb-2">Watch</h2>
      {said === '' || !watch ? (
        <p className="text-soft">
          Nobody is called when this zone gets too hot or too cold, or when its sensor falls silent.
        </p>
      ) : (
        <p>
          {said} Called: {called.map(({ displayName }) => displayName).join(', ') || 'the owners'}.
        </p>
      )}
      {mayWrite && zone.archivedOn === null ? (
        <div className="mt-3">
          <SetWatch {...{ workspace, zoneId: zone.id, unit }} watch={watch} people={people} />
        </div>
      ) : null}
    </section>
  )
}

function sayWatch({ lowC, highC, delayMinutes, silenceMinutes }: WatchRow, unit: TemperatureUnit): string {
  const limits = [
    highC === null ? '' : `above ${writeTemperature(highC, unit)}`,
    lowC === null ? '' : `below ${writeTemperature(lowC, unit)}`,
  ].filter(Boolean)
  const after = delayMinutes === 0 ? 'at once' : `after ${writeCount(delayMinutes, 'minute')}`
  const outside = limits.length === 0 ? '' : `Somebody is called ${after} ${limits.join(' or ')}.`
  const silent =
    silenceMinutes === null ? '' : `Also after ${writeCount(silenceMinutes, 'minute')} without a reading.`
  return [outside, silent].filter(Boolean).join(' ')
}
