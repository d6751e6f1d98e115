import { writeDay } from '@/lib/domain/calendar/wording'
import type { CultureRow, HarvestRow } from '@/lib/features/culture/data'
import { TakeBackHarvest } from './take-back-harvest'

type Props = { workspace: string; jar: CultureRow; today: string; mayWrite: boolean }

export function HarvestList({ workspace, jar, today, mayWrite }: Props) {
  if (jar.harvests.length === 0) return null
  return (
    <section className="mt-8 max-w-2xl">
      <h2>Taken out of it</h2>
      <ul aria-label="Harvests" className="divide-y divide-line border-line border-y">
        {[...jar.harvests].reverse().map((harvest) => (
          <li key={harvest.id} className="flex flex-wrap items-center justify-between gap-x-4">
            <span className="py-2">
              {writeDay(harvest.on, today)}: {sayHarvest(harvest)}
            </span>
            {mayWrite ? (
              <TakeBackHarvest
                workspace={workspace}
                harvest={harvest.id}
                version={harvest.version}
                words={writeDay(harvest.on, today)}
              />
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  )
}

function sayHarvest({ count, low, high, measure }: HarvestRow): string {
  const range = low !== null || high !== null ? ` (${low ?? count} to ${high ?? count})` : ''
  return measure === 'about' ? `about ${count}${range}` : `${count} ${measure}`
}
