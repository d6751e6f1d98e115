import { addDays, type PlainDate } from './date'

/**
 * A calendar of whole days as a text after RFC 5545. Days are plain dates, so they are the days of whoever keeps the
 * calendar and no time zone can move them. Times at which something was written down are UTC.
 */
export type CalendarEntry = {
  /** the same for as long as it is the same thing */
  uid: string
  /** rises with every change that a reader has to see */
  sequence: number
  isCancelled: boolean
  startsOn: PlainDate
  /** the last day */
  endsOn: PlainDate
  title: string
  details: string
  url: string
  changedAt: Date
}

export type Calendar = { name: string; timeZone: string; entries: readonly CalendarEntry[] }

/** A line holds at most so many octets, without its end. */
const LINE_OCTETS = 75
const END = '\r\n'

export function writeCalendar({ name, timeZone, entries }: Calendar): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Oothecary//Dates of the rack//EN',
    'CALSCALE:GREGORIAN',
    'METHOD:PUBLISH',
    `NAME:${escapeText(name)}`,
    `X-WR-CALNAME:${escapeText(name)}`,
    `X-WR-TIMEZONE:${timeZone}`,
    'REFRESH-INTERVAL;VALUE=DURATION:PT1H',
    ...entries.flatMap(entryLines),
    'END:VCALENDAR',
  ]
  return lines.map((line) => foldLine(line) + END).join('')
}

function entryLines(entry: CalendarEntry): string[] {
  const { uid, sequence, isCancelled, startsOn, endsOn, title, details, url, changedAt } = entry
  const changed = writeInstant(changedAt)
  return [
    'BEGIN:VEVENT',
    `UID:${escapeText(uid)}`,
    `DTSTAMP:${changed}`,
    `LAST-MODIFIED:${changed}`,
    `SEQUENCE:${sequence}`,
    `STATUS:${isCancelled ? 'CANCELLED' : 'CONFIRMED'}`,
    `DTSTART;VALUE=DATE:${writeDate(startsOn)}`,
    // The end of whole days is the day after the last one.
    `DTEND;VALUE=DATE:${writeDate(addDays(endsOn, 1))}`,
    `SUMMARY:${escapeText(title)}`,
    ...(details ? [`DESCRIPTION:${escapeText(details)}`] : []),
    ...(url ? [`URL:${url}`] : []),
    'TRANSP:TRANSPARENT',
    'END:VEVENT',
  ]
}

/** Backslash, semicolon and comma mean something, a line's end is written out; other control characters are left out. */
export function escapeText(text: string): string {
  return (
    text
      .replaceAll('\r\n', '\n')
      .replaceAll('\r', '\n')
      // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what must not be written
      .replaceAll(/[\u0000-\u0009\u000B-\u001F\u007F]/g, ' ')
      .replaceAll('\\', '\\\\')
      .replaceAll(';', '\\;')
      .replaceAll(',', '\\,')
      .replaceAll('\n', '\\n')
  )
}

/** Longer lines go on after a line's end and a space, never inside a character. O(length). */
export function foldLine(line: string): string {
  const parts: string[] = []
  let part = ''
  let octets = 0
  for (const character of line) {
    const size = octetsOf(character)
    if (octets + size > LINE_OCTETS) {
      parts.push(part)
      // The space that goes on counts.
      part = ' '
      octets = 1
    }
    part += character
    octets += size
  }
  return [...parts, part].join(END)
}

/** How many octets of UTF-8 a character takes. */
function octetsOf(character: string): number {
  const point = character.codePointAt(0) ?? 0
  if (point < 0x80) return 1
  if (point < 0x800) return 2
  return point < 0x10000 ? 3 : 4
}

const writeDate = (on: PlainDate) => on.replaceAll('-', '')

function writeInstant(at: Date): string {
  return `${at.toISOString().slice(0, 19).replaceAll(/[-:]/g, '')}Z`
}
