import { describe, expect, it } from 'vitest'
import { sheetContent } from '@/lib/documents/care-sheet/content'
import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import { renderCareSheet } from '@/lib/documents/care-sheet/render'
import { LANGUAGES } from '@/lib/messages/language'
import { readPdf } from './read-pdf'
import { adultPair, eggCase, longNote, lotOfTen, orchidNymph, otherScripts } from './sheet-samples'

const textOf = async (payload: CareSheetPayload) =>
  (await readPdf(renderCareSheet(payload))).text.replaceAll(/[\u00a0\u2009\u202f]/g, ' ')

describe('the sheet of an egg case', () => {
  it('tells when the young may come, and when to start their food', async () => {
    const text = await textOf(eggCase())
    for (const said of [
      'egg case',
      'Laid 10 Nov 2026',
      'between 12 December and 27 December',
      'Start small fruit flies by 28 November',
      'Usually 10–60 young, but any number is possible',
      '25–29°C until they hatch',
      'Small wasps instead of mantises?',
      'Freeze it for two days at −18 °C',
      'The page of this egg case',
    ])
      expect(text, said).toContain(said)
    expect(text).toMatch(/May hatch: 12 ?– ?27 Dec/)
    expect(text).not.toMatch(/moult|sex not known|last ate|offer food/i)
  })

  it('says when cold rest ends, and that some need one where nothing is on record', async () => {
    const { eggCase: known } = eggCase()
    const resting = eggCase({ eggCase: { ...known, restUntilOn: '2027-01-20', restC: { min: 4, max: 8 } } })
    expect(await textOf(resting)).toMatch(/Cold rest until 20 January: 4 ?– ?8°C/)
    expect(await textOf(eggCase({ eggCase: { ...known, mayNeedRest: true } }))).toContain(
      'ask us about this one',
    )
  })

  it('leaves out the window where none is known, and keeps flies ready all the same', async () => {
    const text = await textOf(eggCase({ eggCase: {}, calendar: null }))
    expect(text).not.toMatch(/probably|May hatch|Laid|Usually|undefined|NaN/)
    expect(text).toContain('Have small fruit flies ready now')
  })
})

describe('a sheet for several animals', () => {
  it('counts them by sex as surely as it is known and names their labels', async () => {
    const text = await textOf(lotOfTen())
    expect(text).toContain('lot of 10 1.2.7')
    expect(text).toContain('1 × ♂ male, probable · 2 × ♀ female, probable · 7 × ? sex not known yet')
    expect(text).toContain('3rd instar · 4th instar (hatchling counted as 1st)')
    for (let number = 10; number < 20; number += 1) expect(text).toContain(`K7Q ${number}`)
  })

  it('speaks of each of them, and of the smallest where prey has to fit', async () => {
    const text = await textOf(lotOfTen())
    expect(text).toContain('Their next moults will probably come between 28 November and 8 December')
    expect(text).toContain('Now, for each: 3–5 large fruit flies')
    expect(text).toContain('half the body of the smallest, now 6 mm')
    expect(text).toContain('Each needs a home of its own')
    expect(text).not.toContain('Keep the two apart')
  })

  it('keeps a pair apart and says what may happen', async () => {
    const text = await textOf(adultPair())
    expect(text).toContain('pair 1.1.0')
    expect(text).toContain('Keep the two apart')
    expect(text).toContain('lay egg cases without a male')
  })

  it('calls two of which one is not sexed no pair', async () => {
    const [male, female] = adultPair().lot ?? []
    if (!male || !female) throw new Error('a pair has two')
    const text = await textOf(adultPair({ lot: [male, { ...female, certainty: 'none' }] }))
    expect(text).toContain('lot of 2 1.0.1')
    expect(text).not.toContain('Keep the two apart')
  })
})

describe('what somebody typed', () => {
  it('is cut where there is no room, and the sheet says where the rest is', async () => {
    const text = await textOf(longNote({ paper: 'a5' }))
    expect(text).toContain('Line 1:')
    expect(text).toContain('… (Shortened here; all of it is on the page behind the code.)')
    const unlinked = await textOf(longNote({ paper: 'a5', publicPageUrl: null }))
    expect(unlinked).toContain('… (Shortened here; ask us for the rest.)')
  })

  it('stands whole on the page behind the code', () => {
    const { facts } = sheetContent(longNote(), { isWhole: true })
    const note = facts.find(({ term }) => term === 'Note')?.text ?? ''
    expect(note).toContain('Line 40:')
    expect(note).not.toContain('Shortened')
  })

  it('is printed in the script it was written in', async () => {
    const text = await textOf(otherScripts())
    expect(text).toContain('Орхидейный богомол')
    expect(text).toContain('Μαρία')
    expect(text).toContain('Богомолы «Ясень»')
  })
})

describe('the law', () => {
  it('is named by kind of duty and left to an authority, in every language and country', () => {
    for (const language of LANGUAGES)
      for (const country of ['DE', 'GB', 'US', 'AU', 'BR', null]) {
        const { boxes } = sheetContent(orchidNymph({ language, country }))
        const said =
          boxes
            .at(-1)
            ?.sentences.map(({ text }) => text)
            .join(' ') ?? ''
        expect(said, `${language} ${country}`).toMatch(/ask|fragen|demander|preguntar|vraag/i)
        expect(said).toMatch(
          /authorit|council|department|[Bb]ehörde|Gemeinde|autori|service|commune|ayuntamiento|departamento|dienst|overheid/,
        )
      }
  })

  it('differs by the country of the seller', () => {
    const last = (country: string) =>
      sheetContent(orchidNymph({ country })).boxes.at(-1)?.sentences.at(-1)?.text
    expect(new Set(['DE', 'GB', 'US', 'AU', 'BR'].map(last)).size).toBe(5)
    expect(last('DE')).toBe(last('NL'))
  })
})

describe('a reprint', () => {
  it('says that it is one, and which version of the care profile the first came from', async () => {
    const reprint = { firstOn: '2026-11-02', profileVersion: 2 }
    expect(await textOf(orchidNymph({ reprint }))).toContain(
      'Care profile version 3 · printed again; first on 2 Nov 2026 from version 2',
    )
    expect(await textOf(orchidNymph())).not.toContain('printed again')
  })
})
