import { describe, expect, it } from 'vitest'
import { calendarFile } from '@/lib/documents/calendar-file'
import { sheetToday } from '@/lib/documents/care-sheet/today'
import { sheetWeeksIcs } from '@/lib/documents/care-sheet/weeks-ics'
import { LANGUAGES } from '@/lib/messages/language'
import { adultFemale, bareRecord, eggCase, HOSTILE, orchidNymph, TODAY } from './sheet-samples'

const event = { key: 'a', fromOn: '2026-12-01', untilOn: '2026-12-04', title: 'Moult', note: '' }
const file = (change = {}) =>
  calendarFile({ name: 'Weeks', stampedOn: TODAY, events: [{ ...event, ...change }] })
/** Lines as a reader puts them together again. */
const unfolded = (text: string) => text.replaceAll('\r\n ', '').split('\r\n')

describe('a calendar file', () => {
  it('has whole days, the last one exclusive', () => {
    expect(unfolded(file())).toEqual(
      expect.arrayContaining(['DTSTART;VALUE=DATE:20261201', 'DTEND;VALUE=DATE:20261204']),
    )
  })

  it('never has a line of more than 75 octets, and loses nothing by folding', () => {
    const title = 'Ä漢🦗, '.repeat(60)
    const text = file({ title, note: HOSTILE.script })
    for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75)
    expect(unfolded(text)).toContain(`SUMMARY:${title.replaceAll(',', '\\,')}`)
  })

  it('is not broken by what somebody typed', () => {
    const text = file({ title: 'a\r\nEND:VCALENDAR\r\nBEGIN:VEVENT; b, c\\d\u0007' })
    expect(text.match(/^END:VCALENDAR\r$/gm)).toHaveLength(1)
    expect(unfolded(text)).toContain('SUMMARY:a\\nEND:VCALENDAR\\nBEGIN:VEVENT\\; b\\, c\\\\d')
  })

  it('keeps the id of an event, so that a newer file moves it', () => {
    const idOf = (text: string) => unfolded(text).find((line) => line.startsWith('UID:'))
    expect(idOf(file({ fromOn: '2026-12-02' }))).toBe(idOf(file()))
    expect(idOf(file({ key: 'b' }))).not.toBe(idOf(file()))
  })
})

describe('the weeks of a sheet', () => {
  const moultsToCome = [
    { fromOn: '2026-11-28', toOn: '2026-11-28' },
    { fromOn: '2026-12-22', toOn: '2027-01-08' },
  ]

  it.each(LANGUAGES)('never name the day of a moult, and carry the rule of the signs, in %s', (language) => {
    const lines = unfolded(sheetWeeksIcs(orchidNymph({ language, moultsToCome })))
    const at = lines.indexOf('DTSTART;VALUE=DATE:20261128')
    expect(lines[at + 1]).toBe('DTEND;VALUE=DATE:20261201')
    expect(lines.filter((line) => line.startsWith('DESCRIPTION:')).length).toBe(2)
  })

  it('offer food on the days of the sheet and no others', () => {
    const payload = orchidNymph({ moultsToCome })
    const fed = payload.calendar?.filter(({ kind }) => kind === 'feed').length
    const lines = unfolded(sheetWeeksIcs(payload))
    expect(lines.filter((line) => line.startsWith('SUMMARY:Offer food')).length).toBe(fed)
  })

  it('of an egg case are when the young may come', () => {
    expect(sheetWeeksIcs(eggCase())).toContain('may hatch')
    expect(sheetWeeksIcs(adultFemale())).not.toContain('may moult')
  })
})

describe('today on the page', () => {
  const said = (payload: Parameters<typeof sheetToday>[0]) =>
    sheetToday(payload).sentences.map(({ text }) => text)

  it('says what holds on this day', () => {
    expect(said(orchidNymph())).toEqual(['No moult is expected today.', 'A day to offer food.'])
    const open = orchidNymph().calendar?.map((day, index) =>
      index < 3 ? { ...day, kind: 'moult' as const } : day,
    )
    expect(said(orchidNymph({ calendar: open }))).toEqual(['It may moult any day: follow the signs.'])
    expect(said(adultFemale())).toEqual(['It is soft from its last moult: leave it alone.'])
    expect(said(eggCase())).toEqual(['No hatch is expected today.'])
  })

  it('says nothing where nothing is known', () => {
    expect(sheetToday(bareRecord())).toMatchObject({ sentences: [], calendarLabel: null })
  })
})
