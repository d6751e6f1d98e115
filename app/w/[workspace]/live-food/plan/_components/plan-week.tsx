import { StateMark } from '@/components/ui/state-mark'
import { addDays } from '@/lib/domain/calendar/date'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import type { PlanLine, PlanWeekOnPage } from '@/lib/features/food-plan/loaders'

/** One week: what to do on which day, why, and what is to be expected of it. */
export function PlanWeek({ week, today }: { week: PlanWeekOnPage; today: string }) {
  const { from, starts, purchases, discards, reasons, shortages, surplus } = week
  const isQuiet = starts.length + purchases.length + discards.length === 0
  return (
    <section className="mt-8 max-w-3xl">
      <h2>
        {writeDay(from, today)} to {writeDay(addDays(from, 6), today)}
      </h2>
      {isQuiet ? <p className="text-soft">Nothing to start, order or throw out.</p> : null}
      <ul aria-label={`To do from ${from}`} className="divide-y divide-line border-line border-y">
        <Lines
          lines={starts}
          today={today}
          say={({ count, name }) => `Start ${writeCount(count, 'jar')} of ${name}`}
        />
        <Lines
          lines={purchases}
          today={today}
          say={({ count, name }) => `Order ${writeCount(count, 'pack')} of ${name}`}
        />
        <Lines
          lines={discards}
          today={today}
          say={({ count, name }) => `Discard ${writeCount(count, 'jar')} of ${name}`}
        />
      </ul>
      {reasons.length > 0 ? (
        <details className="mt-1">
          <summary className="target inline-flex items-center text-small text-soft underline">Why</summary>
          <ul className="list-disc space-y-1 ps-5 text-small text-soft">
            {reasons.map((reason) => (
              <li key={reason}>{reason}</li>
            ))}
          </ul>
        </details>
      ) : null}
      <Shortages shortages={shortages.slice(0, WORST)} />
      {shortages.length > WORST ? (
        <details>
          <summary className="target inline-flex items-center text-small text-soft underline">
            {shortages.length - WORST} more that may go short
          </summary>
          <Shortages shortages={shortages.slice(WORST)} />
        </details>
      ) : null}
      {surplus.length > 0 ? (
        <p className="text-small text-soft">Nobody eats, expected: {surplus.join(', ')}.</p>
      ) : null}
    </section>
  )
}

/** So many at once; the worst come first. */
const WORST = 3

function Shortages({ shortages }: Pick<PlanWeekOnPage, 'shortages'>) {
  return shortages.map(({ words, isBad }) => (
    <p key={words}>
      <StateMark state={isBad ? 'late' : 'due'} word={words} />
    </p>
  ))
}

type LinesProps = { lines: readonly PlanLine[]; today: string; say: (line: PlanLine) => string }

function Lines({ lines, today, say }: LinesProps) {
  return lines.map((line) => (
    <li key={`${line.line}-${line.on}`} className="flex flex-wrap justify-between gap-x-4 py-2">
      <span className="font-semibold">{say(line)}</span>
      <span className="text-soft">{writeDay(line.on, today)}</span>
    </li>
  ))
}
