import { addDays, dayNumber, type PlainDate } from '@/lib/domain/calendar/date'
import { messagesIn, type Say } from '@/lib/messages/catalogue'
import { briefDateRangeText, briefDateText, dayAndMonthText, weekdayLetterText } from '../wording/dates'
import { listText, type Wording } from '../wording/units'
import type { CareSheetPayload, SheetCalendarDay } from './payload'

export type CalendarPicture = {
  heading: string
  alt: string
  feedDay: string | null
  moultDay: string | null
  windows: string | null
  wider: string | null
  weeks: { label: string; days: { number: string; letter: string; kind: SheetCalendarDay['kind'] }[] }[]
}

const DAYS_SHOWN = 56

/** Eight weeks from the first day given, in blocks of seven days, with the windows written out as well. */
export function calendarPicture(payload: CareSheetPayload, wording: Wording): CalendarPicture | null {
  const days = (payload.calendar ?? []).slice(0, DAYS_SHOWN)
  const first = days[0]
  const last = days.at(-1)
  if (!first || !last) return null
  const say = messagesIn(payload.language, 'careSheet')
  const windows = moultWindows(days)
  const windowTexts = windows.map(({ from, to }) =>
    to === last.on
      ? say('calendarFrom', { date: briefDateText(from, wording) })
      : briefDateRangeText(from, to === from ? addDays(to, 1) : to, wording),
  )
  const written = windows.length > 0 ? say('calendarWindows', { windows: windowTexts.join(' · ') }) : null
  return {
    heading: say('calendar'),
    alt: altText({ days, written, say, wording }),
    feedDay: days.some((day) => day.kind === 'feed') ? say('feedDay') : null,
    moultDay: windows.length > 0 ? say('moultDay') : null,
    windows: written,
    wider: windows.length > 1 ? say('calendarWider') : null,
    weeks: weeksOf(days, wording),
  }
}

function weeksOf(days: SheetCalendarDay[], wording: Wording): CalendarPicture['weeks'] {
  const weeks: CalendarPicture['weeks'] = []
  for (let start = 0; start < days.length; start += 7) {
    const week = days.slice(start, start + 7)
    weeks.push({
      label: week[0] ? briefDateText(week[0].on, wording) : '',
      days: week.map((day) => ({
        number: String(Number(day.on.slice(8))),
        letter: weekdayLetterText(day.on, wording),
        kind: day.kind,
      })),
    })
  }
  return weeks
}

/** Runs of days inside a window; one still open on the last day is written as "from …". */
function moultWindows(days: SheetCalendarDay[]): { from: PlainDate; to: PlainDate }[] {
  const windows: { from: PlainDate; to: PlainDate }[] = []
  for (const day of days) {
    if (day.kind !== 'moult') continue
    const last = windows.at(-1)
    if (last && dayNumber(day.on) === dayNumber(addDays(last.to, 1))) last.to = day.on
    else windows.push({ from: day.on, to: day.on })
  }
  return windows
}

type AltInput = { days: SheetCalendarDay[]; written: string | null; say: Say<'careSheet'>; wording: Wording }

function altText({ days, written, say, wording }: AltInput): string {
  const feeding = days.filter((day) => day.kind === 'feed').map((day) => briefDateText(day.on, wording))
  const from = dayAndMonthText(days[0]?.on ?? '', wording)
  const to = dayAndMonthText(days.at(-1)?.on ?? '', wording)
  if (feeding.length === 0) return say('calendarAltNoFeeding', { from, to, windows: written ?? '' })
  return say('calendarAlt', {
    from,
    to,
    windows: written ?? '',
    feeding: listText(feeding, wording, 'conjunction'),
  })
}
