import Link from 'next/link'
import { sayIncident, saySpan } from '@/lib/domain/zone/incident-words'
import type { ZonePage } from '@/lib/features/zone/loaders'

/** What has happened here, newest first. */
export function Incidents({ workspace, page }: { workspace: string; page: ZonePage }) {
  const { incidents, unit, timeZone, today } = page
  if (incidents.length === 0) return null
  return (
    <section>
      <h2 className="mb-2">Incidents</h2>
      <ul className="divide-y divide-line border-line border-y">
        {incidents.map((incident) => (
          <li key={incident.id}>
            <Link
              href={`/w/${workspace}/incidents/${incident.id}`}
              prefetch={false}
              className="target flex flex-wrap items-center gap-x-3 py-1"
            >
              {sayIncident(incident, unit)}
              <span className="text-small text-soft">
                {saySpan(
                  { beganMs: incident.beganAt.getTime(), endedMs: incident.endedAt?.getTime() ?? null },
                  timeZone,
                  today,
                )}
              </span>
            </Link>
          </li>
        ))}
      </ul>
    </section>
  )
}
