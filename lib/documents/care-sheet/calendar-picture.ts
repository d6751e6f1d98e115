import { addDays, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { messagesIn, type Say } from '@/lib/messages/catalogue'
import { briefDateRangeText, briefDateText, dayAndMonthText, weekdayLetterText } from '../wording/dates'
import { listText, type Wording } from '../wording/units'
import type { CareSheetPayload, SheetCalendarDay, SheetWindow } from './payload'

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
  const windows = windowsWithin(payload, days)
  const windowTexts = windows.map((window) => windowText({ window, last: last.on, say, wording }))
  const isEggCase = Boolean(payload.eggCase)
  const written =
    windows.length > 0
      ? oneFullStop(
          say(isEggCase ? 'calendarHatch' : 'calendarWindows', { windows: windowTexts.join(' · ') }),
        )
      : null
  return {
    heading: say('calendar'),
    alt: altText({ days, written, say, wording }),
    feedDay: days.some((day) => day.kind === 'feed') ? say('feedDay') : null,
    moultDay: windows.length > 0 ? say(isEggCase ? 'hatchDay' : 'moultDay') : null,
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

/** The windows that begin inside the calendar; later ones may overlap earlier ones. */
function windowsWithin({ moultsToCome }: CareSheetPayload, days: SheetCalendarDay[]): SheetWindow[] {
  const [first, last] = [days[0]?.on ?? '', days.at(-1)?.on ?? '']
  const shown = moultsToCome?.filter(({ fromOn, toOn }) => toOn >= first && fromOn <= last)
  return shown?.map((window) => ({ ...window, fromOn: maxDate(window.fromOn, first) })) ?? markedRuns(days)
}

/** Runs of marked days, where the windows themselves were not given. */
function markedRuns(days: SheetCalendarDay[]): SheetWindow[] {
  const runs: SheetWindow[] = []
  for (const { on, kind } of days) {
    if (kind !== 'moult') continue
    const run = runs.at(-1)
    if (run && on === addDays(run.toOn, 1)) run.toOn = on
    else runs.push({ fromOn: on, toOn: on })
  }
  return runs
}

type WindowInput = { window: SheetWindow; last: PlainDate; say: Say<'careSheet'>; wording: Wording }

/** A window that lasts to the end of the calendar or beyond is written "from …"; none is written as one day. */
function windowText({ window, last, say, wording }: WindowInput): string {
  const { fromOn, toOn } = window
  if (toOn >= last) return say('calendarFrom', { date: briefDateText(fromOn, wording) })
  return briefDateRangeText(fromOn, toOn === fromOn ? addDays(toOn, 1) : toOn, wording)
}

/** A date that ends in a full stop, as "8. Dez." does, brings its own. */
function oneFullStop(sentence: string): string {
  return sentence.replace(/\.\.$/, '.')
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
