import { clsx } from 'clsx'
import Link from 'next/link'

const SPANS = [
  { days: 30, label: '30 days' },
  { days: 90, label: '90 days' },
  { days: 365, label: 'a year' },
]

type Props = { workspace: string; zoneId: string; days: number }

/** How far back the picture reaches. */
export function HistorySpan({ workspace, zoneId, days }: Props) {
  return (
    <div className="mb-1 flex flex-wrap items-center justify-between gap-x-6">
      <h2>What it was</h2>
      <nav aria-label="Stretch of the picture" className="no-print flex flex-wrap gap-x-4">
        {SPANS.map((span) => (
          <Link
            key={span.days}
            href={`/w/${workspace}/zones/${zoneId}?days=${span.days}`}
            prefetch={false}
            aria-current={span.days === days ? 'page' : undefined}
            className={clsx(
              'target inline-flex items-center justify-center text-small',
              span.days === days && 'font-semibold no-underline',
            )}
          >
            {span.label}
          </Link>
        ))}
      </nav>
    </div>
  )
}

/** What the shapes of the picture stand for. */
export function HistoryLegend() {
  return (
    <ul className="flex flex-wrap gap-x-6 gap-y-1 text-fine-print text-soft">
      <li>Bar: lowest to highest of a day, its mean across it</li>
      <li>Slanted: today, still running</li>
      <li>Line: set by day, dotted by night</li>
      <li>Nothing: nobody read</li>
    </ul>
  )
}
