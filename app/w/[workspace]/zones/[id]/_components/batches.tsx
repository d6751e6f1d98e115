import { Moment } from '@/components/calendar/moment'
import { writeCount } from '@/lib/domain/calendar/wording'
import type { ReadingBatchRow } from '@/lib/features/reading/data'
import type { ZonePage } from '@/lib/features/zone/loaders'
import { TakeBackReadings } from './take-back-readings'

/** What was last written down by hand, with the way back. */
export function Batches({ workspace, page }: { workspace: string; page: ZonePage }) {
  const { batches, timeZone } = page
  if (batches.length === 0) return null
  return (
    <section className="mt-8">
      <h3>Last written down</h3>
      <ul className="divide-y divide-line">
        {batches.map((batch) => (
          <li key={batch.id} className="flex flex-wrap items-center justify-between gap-x-4 py-1 text-small">
            <span>
              {sayBatch(batch)}, <Moment at={batch.untilAt} timeZone={timeZone} />
              <span className="block text-fine-print text-soft">
                {batch.recordedBy ?? 'by a token'}
                {batch.takenBackAt ? ', taken back' : ''}
              </span>
            </span>
            {batch.takenBackAt ? null : <TakeBackReadings workspace={workspace} batchId={batch.id} />}
          </li>
        ))}
      </ul>
    </section>
  )
}

function sayBatch({ source, readings }: ReadingBatchRow): string {
  return source === 'typed' ? 'One reading' : `${writeCount(readings, 'reading')} pasted`
}
