import Link from 'next/link'
import { LatinName } from '@/components/ui/latin-name'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { instarLabel } from '@/lib/domain/instar/label'
import { formatCode } from '@/lib/domain/label/code'
import { sayMiss } from '@/lib/domain/past-window/wording'
import type { PastWindowsPage } from '@/lib/features/past-window/loaders'

type Props = { workspace: string; page: PastWindowsPage }

/** The newest windows that did not hold: whom they were about, what was said and what came. */
export function MissedTable({ workspace, page }: Props) {
  const { missed, missedInAll, today } = page
  if (missed.length === 0) return null
  const rest = missedInAll - missed.length
  return (
    <section className="mt-8">
      <h2 className="font-semibold text-lead">Windows that did not hold, newest first</h2>
      <ul className="mt-2 divide-y divide-line border-line border-y">
        {missed.map((row) => (
          <li
            key={`${row.kind} ${row.subjectId} ${row.moults}`}
            className="flex flex-wrap gap-x-4 gap-y-0.5 py-2"
          >
            <Link
              href={`/w/${workspace}/${row.kind === 'hatch' ? 'egg-cases' : 'individuals'}/${row.subjectId}`}
              prefetch={false}
              className="target inline-flex items-center font-semibold"
            >
              {formatCode(row.label)}
            </Link>
            <span className="text-small">
              {sayWhat(row, page)}, <LatinName name={row.scientificName} />
              <br />
              <span className="text-soft">
                Said on {writeDay(row.givenOn, today)}: {writeDay(row.p10, today)} to{' '}
                {writeDay(row.p90, today)}.{' '}
              </span>
              {sayMiss(row, today)}
            </span>
          </li>
        ))}
      </ul>
      {rest > 0 ? <p className="mt-2 text-small text-soft">And {writeCount(rest, 'earlier one')}.</p> : null}
    </section>
  )
}

function sayWhat(row: PastWindowsPage['missed'][number], { naming }: PastWindowsPage): string {
  if (row.kind === 'hatch') return 'Hatch'
  if (row.kind === 'final-moult') return 'Final moult'
  return `Moult out of the ${instarLabel(row.moults, naming)}`
}
