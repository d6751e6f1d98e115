import { clsx } from 'clsx'
import type { CalendarPicture } from '@/lib/documents/care-sheet/calendar-picture'

const DAY_LOOK = {
  moult: 'bg-band border-band',
  feed: 'border-fine text-fine font-semibold',
  none: 'border-line text-soft',
} as const

/** The coming weeks as a small calendar; the same in words for whoever does not see it. */
export function SheetWeeks({ calendar }: { calendar: CalendarPicture }) {
  return (
    <section className="mt-6">
      <h2>{calendar.heading}</h2>
      <div role="img" aria-label={calendar.alt} className="mt-2 grid gap-1 desk:grid-cols-2">
        {calendar.weeks.map((week) => (
          <div key={week.label} className="flex items-center gap-1" aria-hidden="true">
            <span className="w-16 shrink-0 text-fine-print text-soft">{week.label}</span>
            {week.days.map((day) => (
              <span
                key={`${day.letter}${day.number}`}
                className={clsx('w-8 border py-0.5 text-center text-fine-print', DAY_LOOK[day.kind])}
              >
                {day.number}
              </span>
            ))}
          </div>
        ))}
      </div>
      <ul className="mt-2 text-small">
        {calendar.feedDay ? (
          <li>
            <span aria-hidden="true" className="me-2 inline-block size-3 border border-fine" />
            {calendar.feedDay}
          </li>
        ) : null}
        {calendar.moultDay ? (
          <li>
            <span aria-hidden="true" className="me-2 inline-block size-3 bg-band" />
            {calendar.moultDay}
          </li>
        ) : null}
      </ul>
      {calendar.windows ? <p className="mt-1 text-small">{calendar.windows}</p> : null}
      {calendar.wider ? <p className="text-small text-soft">{calendar.wider}</p> : null}
    </section>
  )
}
