import { describe, expect, it } from 'vitest'
import type { CareSheetPayload } from '@/lib/documents/care-sheet/payload'
import {
  renderCareSheet,
  renderCareSheets,
  renderCareSheetsOffThread,
} from '@/lib/documents/care-sheet/render'
import { PAPERS } from '@/lib/domain/care-sheet/paper'
import { LANGUAGES } from '@/lib/messages/language'
import { sampleOf } from '@/tests/support/sample'
import { readPdf } from './read-pdf'
import {
  adultFemale,
  adultPair,
  bareRecord,
  eggCase,
  hatchling,
  longNote,
  longWords,
  lotOfTen,
  orchidNymph,
  otherInvertebrate,
  otherScripts,
  TODAY,
} from './sheet-samples'

const SIZES_MM = { a4: [210, 297], a5: [148, 210], letter: [215.9, 279.4] } as const

const KINDS: [string, (change: Partial<CareSheetPayload>) => CareSheetPayload][] = [
  ['a nymph', orchidNymph],
  ['an adult', adultFemale],
  ['a hatchling', hatchling],
  ['an animal with long words about it', longWords],
  ['an animal about which little is known', bareRecord],
  ['an animal that is no mantis', otherInvertebrate],
  ['an egg case', eggCase],
  ['a pair', adultPair],
  ['a lot of ten', lotOfTen],
  ['an animal with forty lines about it', longNote],
  ['an animal with names in other scripts', otherScripts],
]

describe('a care sheet', () => {
  it.each(KINDS)('for %s is one page on every paper, the languages in turn', async (kind, build) => {
    const all = PAPERS.map((paper, index) => {
      const languages = [...LANGUAGES, ...LANGUAGES].slice(index * 2, index * 2 + 2)
      return { paper, languages }
    })
    for (const { paper, languages } of sampleOf(`papers of ${kind}`, all, 1)) {
      const { pages } = await readPdf(
        renderCareSheets(languages.map((language) => build({ language, paper }))),
      )
      expect(pages.length, paper).toBe(languages.length)
      for (const page of pages) {
        expect(page.widthMm).toBeCloseTo(SIZES_MM[paper][0], 0)
        expect(page.heightMm).toBeCloseTo(SIZES_MM[paper][1], 0)
      }
    }
  })

  it("says this animal's own dates and values in text that can be read out", async () => {
    const { text } = await readPdf(renderCareSheet(orchidNymph()))
    for (const said of [
      'Orchid mantis',
      'Hymenopus coronatus',
      'M4T 17',
      'The Glass Fern',
      'handed over 24 November 2026',
      'Hatched 2 Sept 2026',
      'Last moult 3 Nov 2026',
      'Last ate 23 Nov 2026, house flies',
      'between 28 November and 8 December',
      'Now: 1–2 house flies a day or 1 moth every second day.',
      'After the next moult: 1–2 bottle flies every second day.',
      'At least 8 cm high and 5.5 cm wide.',
      'From the next moult 11.5 cm by 7.5 cm',
      '25–30°C by day. At night never below 20°C.',
      'Air humidity 60–80 %.',
      'A fine spray every day',
      'Please tell us within 24 hours of arrival.',
      'help@glassfern.example',
      'Care profile version 3',
    ]) {
      expect(text.replaceAll(/[   ]/g, ' '), said).toContain(said)
    }
  })

  it('keeps every caution on the page, however long the notes are', async () => {
    for (const paper of PAPERS) {
      const { text } = await readPdf(renderCareSheet(longWords({ paper })))
      for (const said of [
        'Insect spray',
        'ask a doctor',
        'thermostat',
        'Never release',
        'ask your local authority',
      ]) {
        expect(text, `${said} on ${paper}`).toContain(said)
      }
    }
  })

  it('leaves out what is not known instead of filling it in', async () => {
    const { text } = await readPdf(renderCareSheet(bareRecord()))
    expect(text).not.toMatch(
      /undefined|null|NaN|Hatched|Last |Length|Mated|°C|humidity|cm|Now:|May moult|version/,
    )
    expect(text).toContain('Creobroter sp.')
  })

  it('says how often once where several kinds of prey share a rhythm', async () => {
    const items = ['bottle-fly', 'moth', 'small-cricket'] as const
    const now = items.map((item, index) => ({ item, min: 1, max: index === 1 ? 1 : 2, perDays: 2 }))
    const { text } = await readPdf(renderCareSheet(orchidNymph({ food: { now } })))
    expect(text).toContain('Now: 1–2 bottle flies, 1 moth or 1–2 small crickets every second day.')
  })

  it('tells an adult nothing about moults to come and that it is soft for now', async () => {
    const { text } = await readPdf(renderCareSheet(adultFemale()))
    expect(text).toContain('Still soft from its last moult: leave it alone until 28 November.')
    expect(text).toContain('It is adult and moults no more.')
    expect(text).toContain('lay egg cases without a male')
    expect(text).toContain('nobody can promise it')
    expect(text).not.toMatch(/next moult|lost leg|First food/)
  })

  it('warns that a hatchling can drown and that a large box starves it', async () => {
    const { text } = await readPdf(renderCareSheet(hatchling()))
    expect(text).toContain('can drown in one drop')
    expect(text).toContain('Not much bigger')
    expect(text).not.toMatch(/gentle end|lay egg cases/)
  })

  it('writes lengths and temperatures in the units of the workspace', async () => {
    const units = { temperature: 'fahrenheit', length: 'inch' } as const
    const { text } = await readPdf(renderCareSheet(orchidNymph({ units, paper: 'letter' })))
    expect(text).toContain('77–86°F by day')
    expect(text).toContain('At least 3.5 in high and 2.5 in wide.')
    expect(text).toContain('November 24, 2026')
    expect(text).not.toMatch(/°C|\bcm\b|\bmm\b/)
  })

  it('is the same file when it is printed again from the same records, a second later', async () => {
    const first = renderCareSheet(orchidNymph())
    await new Promise((resolve) => setTimeout(resolve, 1_100))
    expect(Buffer.from(renderCareSheet(orchidNymph())).equals(first)).toBe(true)
  })
})

describe('for people and machines that cannot see the page', () => {
  it.each(LANGUAGES)(
    'a sheet in %s is tagged, titled and carries its language and fonts',
    async (language) => {
      const read = await readPdf(renderCareSheet(orchidNymph({ language })))
      expect(read.isTagged).toBe(true)
      expect(read.accessibilityStandard).toBe('1')
      expect(read.title).toMatch(/: Orchid mantis, M4T 17$/)
      expect(read.language).toBe(language)
      expect(read.pages[0]?.tags).toEqual(expect.arrayContaining(['H1', 'H2', 'P', 'Figure', 'Link']))
      expect(read.fonts.every((font) => font.isEmbedded)).toBe(true)
      expect(new Set(read.fonts.map((font) => font.name.split('-')[0]))).toEqual(
        new Set(['AtkinsonHyperlegibleNext', 'DejaVuSans', 'Literata']),
      )
      expect(read.text).not.toContain('□')
    },
  )

  it('the timeline and the calendar are told in words', async () => {
    const [page] = (await readPdf(renderCareSheet(orchidNymph()))).pages
    const alts = page?.alts.join('\n') ?? ''
    expect(alts).toContain('1st instar: 13 days. 2nd instar: 14 days.')
    expect(alts).toMatch(/next moult may come 28 Nov\s*–\s*8 Dec/)
    expect(alts).toContain('Calendar from 24 November to 18 January.')
    expect(alts).toMatch(/Feeding days: 24 Nov, 26 Nov, 10 Dec/)
  })

  it('the public page is a link as well as a code', async () => {
    const { links } = await readPdf(renderCareSheet(orchidNymph()))
    expect(links).toEqual(['https://glassfern.example/p/9sKqPz0c3mUXa1bVd5eRfTgYhUjIkOlp'])
  })
})

const photo = (base64: string) => ({
  kind: 'png' as const,
  bytes: Uint8Array.from(Buffer.from(base64, 'base64')),
})
const RED = photo(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8BQDwAEhQGAhKmMIQAAAABJRU5ErkJggg==',
)
const CLEAR = photo(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==',
)

describe('a photo', () => {
  const withPhoto = (picture: typeof RED) =>
    orchidNymph({ animal: { ...orchidNymph().animal, photo: picture } })

  it('takes the place of the empty frame and is described', async () => {
    const [page] = (await readPdf(renderCareSheet(withPhoto(RED)))).pages
    expect(page?.alts).toContain('Photo of this animal')
    expect(page?.text).not.toContain('space for a photo')
  })

  it("is each animal's own, also in one process and one file", () => {
    const red = renderCareSheet(withPhoto(RED))
    const clear = renderCareSheet(withPhoto(CLEAR))
    expect(Buffer.from(red).equals(clear)).toBe(false)
    expect(Buffer.from(renderCareSheet(withPhoto(RED))).equals(red)).toBe(true)
    expect(renderCareSheets([withPhoto(RED), withPhoto(CLEAR)]).length).toBeGreaterThan(red.length)
  })
})

describe('a batch', () => {
  const batch = () =>
    Array.from({ length: 12 }, (_, index) => ({ ...orchidNymph().animal, labelCode: `K7Q ${10 + index}` }))

  it('is one file with one page for each animal in the order given', async () => {
    const bytes = await renderCareSheetsOffThread(batch().map((animal) => orchidNymph({ animal })))
    const { pages } = await readPdf(bytes)
    expect(pages.map((page) => /K7Q \d\d/.exec(page.text)?.[0])).toEqual(
      batch().map((animal) => animal.labelCode),
    )
  })

  it('is set off the request thread into the very same bytes', async () => {
    const payloads = [orchidNymph(), hatchling({ printedOn: TODAY })]
    const [there, again] = await Promise.all([
      renderCareSheetsOffThread(payloads),
      renderCareSheetsOffThread(payloads),
    ])
    expect(Buffer.from(there).equals(renderCareSheets(payloads))).toBe(true)
    expect(Buffer.from(again).equals(there)).toBe(true)
  })

  it('that cannot be set says so and does not stop the next one', async () => {
    const broken = { kind: 'png' as const, bytes: new Uint8Array([1, 2, 3]) }
    const animal = { ...orchidNymph().animal, photo: broken }
    await expect(renderCareSheetsOffThread([orchidNymph({ animal })])).rejects.toThrow('typesetting failed')
    expect((await readPdf(await renderCareSheetsOffThread([orchidNymph()]))).pages.length).toBe(1)
    expect(() => renderCareSheets([])).toThrow('at least one animal')
  })
})
