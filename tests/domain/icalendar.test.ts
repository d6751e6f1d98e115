import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { escapeText, foldLine, writeCalendar } from '@/lib/domain/calendar/icalendar'

const entry = {
  uid: 'separation-1@example.test',
  sequence: 2,
  isCancelled: false,
  startsOn: '2026-12-30',
  endsOn: '2026-12-31',
  title: 'Egg case E-12 may hatch',
  details: 'Creobroter spp., about 30 nymphs; 40 cups',
  url: 'https://racks.example/w/lane/egg-cases/1',
  changedAt: new Date('2026-12-01T06:07:08.900Z'),
}

const unfold = (text: string) => text.replaceAll('\r\n ', '')

describe('a calendar', () => {
  it('is written as the standard says, the end of whole days being the day after', () => {
    const text = writeCalendar({ name: 'Lane, Berlin', timeZone: 'Europe/Berlin', entries: [entry] })
    expect(unfold(text).split('\r\n')).toEqual([
      'BEGIN:VCALENDAR',
      'VERSION:2.0',
      'PRODID:-//Oothecary//Dates of the rack//EN',
      'CALSCALE:GREGORIAN',
      'METHOD:PUBLISH',
      'NAME:Lane\\, Berlin',
      'X-WR-CALNAME:Lane\\, Berlin',
      'X-WR-TIMEZONE:Europe/Berlin',
      'REFRESH-INTERVAL;VALUE=DURATION:PT1H',
      'BEGIN:VEVENT',
      'UID:separation-1@example.test',
      'DTSTAMP:20261201T060708Z',
      'LAST-MODIFIED:20261201T060708Z',
      'SEQUENCE:2',
      'STATUS:CONFIRMED',
      'DTSTART;VALUE=DATE:20261230',
      'DTEND;VALUE=DATE:20270101',
      'SUMMARY:Egg case E-12 may hatch',
      'DESCRIPTION:Creobroter spp.\\, about 30 nymphs\\; 40 cups',
      'URL:https://racks.example/w/lane/egg-cases/1',
      'TRANSP:TRANSPARENT',
      'END:VEVENT',
      'END:VCALENDAR',
      '',
    ])
  })

  it('tells what does not hold any more as cancelled', () => {
    const text = writeCalendar({ name: 'x', timeZone: 'UTC', entries: [{ ...entry, isCancelled: true }] })
    expect(text).toContain('STATUS:CANCELLED\r\n')
  })

  it('has no line longer than 75 octets, cuts no character, and loses none', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 400 }), (title) => {
        const text = writeCalendar({ name: 'x', timeZone: 'UTC', entries: [{ ...entry, title }] })
        for (const line of text.split('\r\n')) expect(Buffer.byteLength(line, 'utf8')).toBeLessThanOrEqual(75)
        expect(text).not.toContain('\ufffd')
        expect(unfold(text)).toContain(`SUMMARY:${escapeText(title)}\r\n`)
      }),
    )
  })

  it('lets no text begin a line of its own', () => {
    const hostile = 'x\r\nBEGIN:VEVENT\nATTENDEE:mailto:a@b\u0000\u2028'
    const text = writeCalendar({
      name: hostile,
      timeZone: 'UTC',
      entries: [{ ...entry, title: hostile, details: hostile }],
    })
    expect(text.split('\r\n').filter((line) => /^(BEGIN:VEVENT|ATTENDEE)/.test(line))).toEqual([
      'BEGIN:VEVENT',
    ])
    expect(escapeText('a\\b;c,d\ne')).toBe('a\\\\b\\;c\\,d\\ne')
    expect(foldLine('y'.repeat(76))).toBe(`${'y'.repeat(75)}\r\n y`)
  })
})
