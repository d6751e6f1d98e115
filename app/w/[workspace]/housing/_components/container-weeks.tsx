import { clsx } from 'clsx'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { ContainerWeek } from '@/lib/domain/housing/container-week'
import type { HousingPage, KindOutlook } from '@/lib/features/housing/loaders'

/** Kind by kind and week by week: wanted, given free, on order, and what is left. */
export function ContainerWeeks({ page }: { page: HousingPage }) {
  return (
    <section>
      <h2>Containers week by week</h2>
      <p className="mb-3 text-small text-soft">
        Expected numbers. Wanted: by animals that grow, and for siblings on the day they should be apart.
      </p>
      <div className="space-y-6">
        {page.kinds.map((kind) => (
          <Kind key={kind.id} kind={kind} today={page.today} />
        ))}
      </div>
    </section>
  )
}

const LINES: { head: string; value: (week: ContainerWeek) => number; sign: string }[] = [
  { head: 'for growing', value: ({ growing }) => growing, sign: '−' },
  { head: 'for siblings', value: ({ parting }) => parting, sign: '−' },
  { head: 'given free', value: ({ freed }) => freed, sign: '+' },
  { head: 'on order', value: ({ ordered }) => ordered, sign: '+' },
]

function Kind({ kind, today }: { kind: KindOutlook; today: string }) {
  return (
    <div>
      <h3>
        {kind.name} <span className="font-normal font-plain text-small text-soft">{sayFree(kind.free)}</span>
      </h3>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways has to be reachable by keys */}
      <section className="overflow-x-auto" tabIndex={0} aria-label={`${kind.name} week by week`}>
        <table className="min-w-[38rem] text-small">
          <thead>
            <tr className="border-ink border-b">
              <th scope="col" className="w-28 py-1 text-start font-semibold text-fine-print text-soft">
                from
              </th>
              {kind.weeks.map(({ week }) => (
                <th
                  key={week}
                  scope="col"
                  className="py-1 ps-3 text-end font-semibold text-fine-print text-soft"
                >
                  {writeDay(week, today)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {LINES.map(({ head, value, sign }) => (
              <tr key={head}>
                <th scope="row" className="py-1 text-start font-normal">
                  {head}
                </th>
                {kind.weeks.map((week) => (
                  <td key={week.week} className="py-1 ps-3 text-end">
                    {sayChange(value(week), sign)}
                  </td>
                ))}
              </tr>
            ))}
            <tr className="border-line border-t">
              <th scope="row" className="py-1 text-start font-semibold">
                left
              </th>
              {kind.weeks.map((week) => (
                <td
                  key={week.week}
                  className={clsx('py-1 ps-3 text-end font-semibold', isShort(week) && 'text-hand')}
                >
                  {isShort(week) ? `${Math.ceil(-week.free)} short` : Math.floor(week.free + 1e-9)}
                </td>
              ))}
            </tr>
          </tbody>
        </table>
      </section>
    </div>
  )
}

function isShort({ free }: ContainerWeek): boolean {
  return free < -0.05
}

function sayFree(free: number): string {
  if (free >= 0) return `${free} free`
  return `${-free} more in use than counted`
}

function sayChange(count: number, sign: string): string {
  return count < 0.05 ? '' : `${sign}${count < 9.95 ? Number(count.toFixed(1)) : Math.round(count)}`
}
