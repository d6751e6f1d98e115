import { clsx } from 'clsx'
import type { SheetToday } from '@/lib/documents/care-sheet/today'

/** What holds today, and the coming weeks to take along. */
export function TodayPart({
  today,
  token,
  language,
}: {
  today: SheetToday
  token: string
  language: string
}) {
  if (today.sentences.length === 0 && !today.calendarLabel) return null
  return (
    <section className="mt-5 border-ink border-y py-3">
      <h2>{today.heading}</h2>
      {today.sentences.map(({ text, isHush }) => (
        <p key={text} className={clsx('mt-1', isHush && 'font-semibold text-hush')}>
          {isHush ? <span aria-hidden="true">◐ </span> : null}
          {text}
        </p>
      ))}
      {today.calendarLabel ? (
        <p className="mt-1">
          <a href={`/p/${token}/calendar.ics?language=${language}`} className="inline-block py-2.5">
            {today.calendarLabel}
          </a>
        </p>
      ) : null}
    </section>
  )
}
