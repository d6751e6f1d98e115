import { describe, expect, it } from 'vitest'
import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import { renderCareSheets } from '@/lib/documents/care-sheet/render'
import { briefDateText, dayAndMonthText } from '@/lib/documents/wording/dates'
import { wordingFor } from '@/lib/documents/wording/units'
import { getCatalogue } from '@/lib/messages/catalogue'
import { LANGUAGES, type Language } from '@/lib/messages/language'
import { sampleOf } from '@/tests/support/sample'
import { FORBIDDEN, PLANTED } from './forbidden'
import { readPdf } from './read-pdf'
import {
  adultFemale,
  adultPair,
  bareRecord,
  calendarWith,
  eggCase,
  hatchling,
  lotOfTen,
  orchidNymph,
  otherInvertebrate,
  TODAY,
} from './sheet-samples'

const offences = (text: string, language: Language) =>
  FORBIDDEN[language].filter((pattern) => pattern.test(text))

function allKinds(language: Language): CareSheetPayload[] {
  const protectedSpecies = {
    scientificName: 'Mantis religiosa',
    kind: 'mantis',
    legalNote: 'proof-of-origin',
  } as const
  return [
    orchidNymph({ language }),
    orchidNymph({ language, species: protectedSpecies }),
    adultFemale({ language }),
    hatchling({ language }),
    bareRecord({ language }),
    otherInvertebrate({ language }),
    eggCase({ language }),
    adultPair({ language }),
    lotOfTen({ language }),
    ...['DE', 'GB', 'US', 'NZ'].map((country) => orchidNymph({ language, country, reprint: FIRST_PRINT })),
  ]
}

const FIRST_PRINT = { firstOn: '2026-11-02', profileVersion: 2 }

describe('what a care sheet never says', () => {
  it.each(LANGUAGES)('is recognised when somebody writes it in %s', (language) => {
    for (const sentence of PLANTED[language]) expect(offences(sentence, language), sentence).not.toEqual([])
  })

  it.each(LANGUAGES)('stands in none of our texts in %s', (language) => {
    for (const messages of Object.values<Record<string, string>>(getCatalogue(language))) {
      for (const [key, text] of Object.entries(messages)) expect(offences(text, language), key).toEqual([])
    }
  })

  it.each(LANGUAGES)('stands on no printed sheet in %s', async (language) => {
    const kinds = sampleOf(`kinds of sheet in ${language}`, allKinds(language), 5)
    const read = await readPdf(renderCareSheets(kinds))
    expect(read.pages.length).toBe(kinds.length)
    for (const page of read.pages) {
      for (const text of [page.text, ...page.alts]) expect(offences(text, language)).toEqual([])
    }
  })
})

describe('the day of a moult', () => {
  const windowOnly = (language: Language) => orchidNymph({ language, calendar: null })

  it.each(LANGUAGES)('is a window and never the most likely day in %s', async (language) => {
    const payload = windowOnly(language)
    const wording = wordingFor(language, payload.units, payload.paper)
    const { text, pages } = await readPdf(renderCareSheets([payload]))
    const spoken = [text, ...(pages[0]?.alts ?? [])].join(' ')
    for (const on of ['2026-11-28', '2026-12-08']) expect(spoken).toContain(dayAndMonthText(on, wording))
    expect(spoken).not.toContain(dayAndMonthText('2026-12-02', wording))
    expect(spoken).not.toContain(briefDateText('2026-12-02', wording))
  })

  it('is not given away by a window of a single day', async () => {
    const moult = { fromOn: '2026-11-30', likelyOn: '2026-11-30', toOn: '2026-11-30' }
    const { text } = await readPdf(
      renderCareSheets([orchidNymph({ moult, calendar: calendarWith([[6, 6]], 2) })]),
    )
    expect(text).toContain('between 30 November and 2 December')
    expect(text).toMatch(/May moult: 30 Nov ?– ?1 Dec\./)
  })

  it('may come any day once the window is open, and is not announced again when it has passed', async () => {
    const open = orchidNymph({ moult: { fromOn: '2026-11-20', toOn: '2026-11-30' }, calendar: null })
    const passed = orchidNymph({ moult: { fromOn: '2026-11-01', toOn: TODAY }, calendar: null })
    const [openPage, passedPage] = (await readPdf(renderCareSheets([open, passed]))).pages
    expect(openPage?.text).toContain('any day now, probably by 30 November')
    expect(passedPage?.text).toContain('overdue by the calendar')
    expect(passedPage?.text).not.toMatch(/November(?! 2026)|may come/)
  })

  it('is written as open-ended where a window outlasts the calendar', async () => {
    const payload = orchidNymph({ moult: null, calendar: calendarWith([[50, 60]], 2) })
    expect((await readPdf(renderCareSheets([payload]))).text).toContain('May moult: from 13 Jan.')
  })
})

describe('the moults of the coming weeks', () => {
  const overlapping = [
    { fromOn: '2026-11-29', toOn: '2026-12-14' },
    { fromOn: '2026-12-12', toOn: '2027-01-09' },
    { fromOn: '2027-01-05', toOn: '2027-02-11' },
    { fromOn: '2027-02-08', toOn: '2027-03-20' },
  ]
  const payload = (language: Language) =>
    orchidNymph({ language, calendar: calendarWith([[5, 55]], 2), moultsToCome: overlapping })

  it('are written one by one where their windows overlap, as far as the calendar goes', async () => {
    const { text } = await readPdf(renderCareSheets([payload('en')]))
    expect(text).toMatch(/May moult: 29 Nov ?– ?14 Dec · 12 Dec 2026 ?– ?9 Jan 2027 · from 5 Jan\. Later/)
  })

  it('never tell the keeper to stop feeding for a whole window', async () => {
    const { text } = await readPdf(renderCareSheets([payload('en')]))
    expect(text).toContain('may moult: offer one small insect, follow the signs')
  })

  it('end with one full stop, also after a date that is abbreviated', async () => {
    const german = orchidNymph({ language: 'de', moult: null, calendar: calendarWith([[4, 14]], 2) })
    const { text } = await readPdf(renderCareSheets([german]))
    expect(text).toMatch(/Häutung möglich: 28\. Nov\. ?– ?8\. Dez\./)
    expect(text).not.toContain('..')
  })
})

describe('sex and stage', () => {
  it('are named no surer than the record is', async () => {
    const nymph = orchidNymph()
    const certain = orchidNymph({ animal: { ...nymph.animal, certainty: 'certain' } })
    const unknown = orchidNymph({ animal: { ...nymph.animal, sex: 'male', certainty: 'none' } })
    const [probablePage, certainPage, unknownPage] = (
      await readPdf(renderCareSheets([nymph, certain, unknown]))
    ).pages
    expect(probablePage?.text).toContain('♀ female, probable')
    expect(certainPage?.text).toContain('♀ female · 5th instar')
    expect(unknownPage?.text).toContain('? sex not known yet')
    expect(unknownPage?.text).not.toMatch(/\bmale\b/)
  })

  it('carry the convention they are counted by', async () => {
    const animal = {
      ...orchidNymph().animal,
      stage: { moults: 4, isAdult: false, naming: { convention: 'hatchling-is-second', style: 'l-number' } },
    } as const
    const { text } = await readPdf(renderCareSheets([orchidNymph({ animal })]))
    expect(text).toContain('L6 (hatchling counted as L2)')
    expect(text).toContain('has moulted 4 times since it hatched')
  })
})

describe('another invertebrate', () => {
  it('gets no text that is about mantises', async () => {
    const { text } = await readPdf(renderCareSheets([otherInvertebrate()]))
    expect(text).toContain('Dairy woodlouse')
    expect(text).not.toMatch(/mantis|moult|hangs|cricket/i)
  })
})
