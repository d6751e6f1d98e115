import { addDays, maxDate } from '@/lib/domain/calendar/date'
import { messagesIn } from '@/lib/messages/catalogue'
import { type CalendarEvent, calendarFile } from '../calendar-file'
import type { CareSheetPayload, SheetWindow } from './payload'
import { calendarName } from './today'

/**
 * The weeks of a sheet for somebody's own calendar: each window as one event of whole days, each feeding day as one.
 * The sentence of the signs goes with every window, because a date only warns. Pure.
 */
export function sheetWeeksIcs(payload: CareSheetPayload): string {
  const say = messagesIn(payload.language, 'careSheet')
  const name = calendarName(payload)
  const isEggCase = Boolean(payload.eggCase)
  const windows = windowsOf(payload).map(
    ({ fromOn, toOn }, index): CalendarEvent => ({
      key: `window-${index}-${payload.animal.labelCode}`,
      fromOn,
      untilOn: addDays(toOn, 1),
      title: say(isEggCase ? 'eventHatch' : 'eventMoult', { name }),
      note: isEggCase ? say('hatchHow') : `${say('signs')} ${say('signsDo')} ${say('leaveUntil')}`,
    }),
  )
  const feeding = (payload.calendar ?? [])
    .filter(({ kind }) => kind === 'feed')
    .map(
      ({ on }): CalendarEvent => ({
        key: `food-${on}-${payload.animal.labelCode}`,
        fromOn: on,
        untilOn: addDays(on, 1),
        title: say('eventFeed', { name }),
        note: '',
      }),
    )
  return calendarFile({
    name: say('title', { name }),
    stampedOn: payload.printedOn,
    events: [...windows, ...feeding],
  })
}

/** Never one day alone: a sheet does not name the day of a moult, nor does a calendar made from it. */
function windowsOf({ eggCase, moultsToCome, printedOn, animal }: CareSheetPayload): SheetWindow[] {
  const all = eggCase ? (eggCase.hatch ? [eggCase.hatch] : []) : (moultsToCome ?? [])
  if (animal.stage?.isAdult) return []
  return all
    .filter(({ toOn }) => toOn >= printedOn)
    .map(({ fromOn, toOn }) => ({ fromOn, toOn: maxDate(toOn, addDays(fromOn, 2)) }))
}
