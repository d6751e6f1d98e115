import { writeFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import {
  type BoxPapersPayload,
  renderBoxPapers,
  renderBoxPapersOffThread,
} from '@/lib/documents/show-box/papers'
import { LANGUAGES } from '@/lib/messages/language'
import { readPdf } from './read-pdf'
import { HOSTILE, orchidNymph } from './sheet-samples'

const sheet = orchidNymph({ handedOverOn: null })
const tag = {
  code: 'M4T 17',
  scientificName: 'Hymenopus coronatus',
  words: '5th instar, probably female',
  priceMinor: 3200,
  url: 'https://oothecary.example/w/glass-fern/c/M4T17',
}
const papers: BoxPapersPayload = {
  ...{ name: 'Autumn fair', number: 3, paper: 'a4', language: 'en', currency: 'EUR' },
  tags: Array.from({ length: 14 }, (_, index) => ({ ...tag, code: `M4T ${17 + index}` })),
  cards: [
    { sheet, priceMinor: 3200 },
    { sheet: { ...sheet, language: 'de' }, priceMinor: null },
    { sheet: { ...sheet, language: 'fr' }, priceMinor: 3200 },
  ],
  sheets: [sheet, { ...sheet, language: 'de' }],
}

describe('the papers of a show box', () => {
  it('are one file: tags, stand cards and a sheet for each animal, tagged and with their fonts', async () => {
    const bytes = await renderBoxPapersOffThread(papers)
    if (process.env.SHOW_BOX_PDF) writeFileSync(process.env.SHOW_BOX_PDF, bytes)
    const { pages, isTagged, fonts } = await readPdf(bytes)
    expect([pages.length, isTagged, fonts.every(({ isEmbedded }) => isEmbedded)]).toEqual([4, true, true])
    expect(pages[0]?.text).toContain('Show box 3: Autumn fair')
    expect(pages[0]?.text.match(/M4T \d\d/g)).toHaveLength(14)
    expect(pages[0]?.alts).toHaveLength(14)
    expect(pages[0]?.text).toContain('€32.00')
    for (const said of ['Orchid mantis', 'female, probable', 'Please ask us before', 'Preis auf Anfrage'])
      expect(pages[1]?.text).toContain(said)
    expect(pages[2]?.text).toContain('M4T 17')
    expect(pages[3]?.text).toContain('Häutung')
  })

  it.each(LANGUAGES)(
    'keep every card inside its frame in %s, on each paper, with hostile words',
    async (language) => {
      for (const paper of ['a4', 'a5', 'letter'] as const) {
        const named = {
          ...sheet,
          ...{ language, paper },
          species: { ...sheet.species, commonName: HOSTILE.name, scientificName: HOSTILE.name },
        }
        const { pages } = await readPdf(
          renderBoxPapers({
            ...papers,
            ...{
              paper,
              language,
              name: HOSTILE.script,
              sheets: [],
              cards: [{ sheet: named, priceMinor: 9 }],
            },
            tags: [{ ...tag, scientificName: HOSTILE.name, words: HOSTILE.name }],
          }),
        )
        expect([paper, pages.length]).toEqual([paper, 2])
      }
    },
  )
})
