import { createHash } from 'node:crypto'
import type { PlainDate } from '@/lib/domain/calendar/date'

/** An event of whole days; `untilOn` is the first day that no longer belongs to it, as RFC 5545 has it. */
export type CalendarEvent = {
  key: string
  fromOn: PlainDate
  untilOn: PlainDate
  title: string
  note: string
}
export type CalendarFile = { name: string; stampedOn: PlainDate; events: CalendarEvent[] }

/**
 * A calendar to be taken into another one (RFC 5545). The same events keep their ids, so that taking in a newer file
 * moves them instead of doubling them; none of them makes anybody look busy.
 */
export function calendarFile({ name, stampedOn, events }: CalendarFile): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Oothecary//Care sheet//EN',
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    `X-WR-CALNAME:${escaped(name)}`,
    ...events.flatMap((event) => eventLines(event, stampedOn)),
    'END:VCALENDAR',
  ]
  return `${lines.map(folded).join('\r\n')}\r\n`
}

function eventLines({ key, fromOn, untilOn, title, note }: CalendarEvent, stampedOn: PlainDate): string[] {
  const id = createHash('sha256').update(key).digest('hex').slice(0, 32)
  return [
    'BEGIN:VEVENT',
    `UID:${id}@oothecary`,
    `DTSTAMP:${compact(stampedOn)}T000000Z`,
    `DTSTART;VALUE=DATE:${compact(fromOn)}`,
    `DTEND;VALUE=DATE:${compact(untilOn)}`,
    `SUMMARY:${escaped(title)}`,
    ...(note === '' ? [] : [`DESCRIPTION:${escaped(note)}`]),
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ]
}

const compact = (on: PlainDate) => on.replaceAll('-', '')

function escaped(text: string): string {
  return text
    .replace(/[\\;,]/g, (sign) => `\\${sign}`)
    .replace(/\r\n|\r|\n/g, '\\n')
    .replace(/\p{Cc}/gu, '')
}

const LINE_OCTETS = 75

/** Lines of at most 75 octets, never cut inside a sign; what goes on begins with a space. */
function folded(line: string): string {
  const parts: string[] = []
  let part = ''
  for (const sign of line) {
    const limit = parts.length === 0 ? LINE_OCTETS : LINE_OCTETS - 1
    if (Buffer.byteLength(part + sign) > limit) {
      parts.push(part)
      part = ''
    }
    part += sign
  }
  return [...parts, part].join('\r\n ')
}
