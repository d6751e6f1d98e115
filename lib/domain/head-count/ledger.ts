import type { PlainDate } from '../calendar/date'
import { formatCode } from '../label/code'
import type { EntryState } from './head-count'
import { LOSS_CAUSE_WORDS, type LossCause } from './loss-cause'

/** An entry as it is read again. */
export type LedgerEntry = {
  id: string
  from: EntryState
  to: EntryState
  count: number
  on: PlainDate
  cause: LossCause | null
  note: string
  reverses: string | null
  isReversed: boolean
  separationId: string | null
  individualLabel: string | null
  recordedBy: string | null
}

/** One line: an entry, or the cups of one run, which were tapped one by one. */
export type LedgerLine = LedgerEntry & { labels: string[] }

/** Cups of one run and day become one line; everything else stays as it was written. O(n). */
export function ledgerLines(entries: readonly LedgerEntry[]): LedgerLine[] {
  const lines: LedgerLine[] = []
  for (const entry of entries) {
    const last = lines.at(-1)
    const labels = entry.individualLabel ? [entry.individualLabel] : []
    if (last && isSameRun(last, entry)) {
      last.count += entry.count
      last.labels.unshift(...labels)
    } else lines.push({ ...entry, labels })
  }
  return lines
}

function isSameRun(line: LedgerLine, entry: LedgerEntry): boolean {
  return (
    entry.individualLabel !== null &&
    line.labels.length > 0 &&
    line.separationId !== null &&
    line.separationId === entry.separationId &&
    line.from === entry.from &&
    line.to === entry.to &&
    line.on === entry.on &&
    line.isReversed === entry.isReversed &&
    (line.reverses === null) === (entry.reverses === null)
  )
}

const ARRIVED: Record<EntryState, string> = {
  uncounted: 'counted out',
  together: 'back with the siblings',
  single: 'in cups of their own',
  sold: 'sold',
  given_away: 'given away',
  dead: 'dead',
  escaped: 'escaped',
  unaccounted: 'unaccounted for',
}

/** "4 dead: eaten by a sibling", "24 in cups of their own: K7Q 97 to M2T 14". */
export function sayEntry(line: LedgerLine): string {
  const { count, to, cause } = line
  const what =
    line.from === 'uncounted' ? 'counted in' : to === 'single' && count === 1 ? 'in a cup' : ARRIVED[to]
  const why = cause && cause !== 'unknown' ? LOSS_CAUSE_WORDS[cause].toLowerCase() : ''
  const detail = [sayLabels(line.labels), why].filter(Boolean).join(', ')
  return detail ? `${count} ${what}: ${detail}` : `${count} ${what}`
}

/** "K7Q 97", or the first and the last of several. */
export function sayLabels(labels: readonly string[]): string {
  const [first] = labels
  const last = labels.at(-1)
  if (first === undefined || last === undefined) return ''
  return labels.length === 1 ? formatCode(first) : `${formatCode(first)} to ${formatCode(last)}`
}
