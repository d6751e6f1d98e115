import { clsx } from 'clsx'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { type LedgerLine, ledgerLines, sayEntry } from '@/lib/domain/head-count/ledger'
import type { EntryRow } from '@/lib/features/clutch/data'
import { TakeBack } from './take-back'

type Props = {
  entries: readonly EntryRow[]
  workspace: string
  clutchId: string
  today: PlainDate
  mayWrite: boolean
}

/** Every move of the head count, newest first. Nothing is edited: what was wrong is taken back. */
export function Ledger({ entries, workspace, clutchId, today, mayWrite }: Props) {
  const lines = ledgerLines(entries)
  return (
    <section className="mt-10">
      <h2 className="mb-2">Entries</h2>
      <ul className="divide-y divide-line border-line border-y">
        {lines.map((line) => (
          <li key={line.id} className="flex flex-wrap items-center justify-between gap-x-6 gap-y-1 py-2">
            <div className="min-w-0">
              <p className={clsx(line.isReversed && 'text-soft line-through')}>{sayEntry(line)}</p>
              <p className="text-fine-print text-soft">{sayAround(line, today)}</p>
            </div>
            {mayWrite && isTakenBackHere(line) ? (
              <TakeBack workspace={workspace} clutchId={clutchId} entryId={line.id} />
            ) : null}
          </li>
        ))}
      </ul>
    </section>
  )
}

/** An animal's own entry is taken back on its own page, where it also gets a cup again. */
function isTakenBackHere({ isReversed, reverses, labels }: LedgerLine): boolean {
  return !isReversed && reverses === null && labels.length === 0
}

function sayAround(line: LedgerLine, today: PlainDate): string {
  return [
    writeDay(line.on, today),
    line.note,
    line.isReversed ? 'taken back' : '',
    line.recordedBy ? `by ${line.recordedBy}` : '',
  ]
    .filter(Boolean)
    .join(' · ')
}
