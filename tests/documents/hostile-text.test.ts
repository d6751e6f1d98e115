import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { renderCareSheet } from '@/lib/documents/care-sheet/render'
import { displayableText, MISSING_SIGN, unprintableSigns } from '@/lib/documents/displayable'
import { isLong, sampleOf } from '@/tests/support/sample'
import { readPdf } from './read-pdf'
import { bareRecord, HOSTILE, hostile, orchidNymph } from './sheet-samples'

describe('text that was typed to break a document', () => {
  it('is printed as it was typed and changes nothing else', async () => {
    const attacked = await readPdf(renderCareSheet(hostile()))
    expect(attacked.pages.length).toBe(1)
    expect(attacked.text).toContain(HOSTILE.name)
    expect(attacked.text).toContain('"; #read("/etc/passwd") {{sheet}} %s')
    expect(attacked.text).not.toContain('root:')
    const plain = await readPdf(renderCareSheet(orchidNymph()))
    const figures = (read: typeof plain) =>
      read.pages[0]?.tags.filter((tag) => tag === 'H2' || tag === 'Figure')
    expect(figures(attacked)).toEqual(figures(plain))
    expect(attacked.links).toEqual(plain.links)
  })

  it('in other scripts is printed where the fonts can draw it', async () => {
    const { text, fonts } = await readPdf(renderCareSheet(hostile()))
    expect(text).toContain('Ελλ')
    expect(text).toContain('Кир')
    // A reader may give letters of a right-to-left word back in the order of the page.
    expect(text).toMatch(/שלום|םולש/)
    expect(fonts.every((font) => font.isEmbedded)).toBe(true)
  })

  it.each([300, 5_000])('of %i signs still leaves one page', async (length) => {
    for (const word of sampleOf(`words of ${length}`, ['W', 'wide word ', '漢', '\n', '🦗'], 2)) {
      const text = word.repeat(length).slice(0, length)
      const nymph = orchidNymph()
      const payload = orchidNymph({
        seller: { name: text, contact: text, claimTerms: text },
        species: { scientificName: text, commonName: text, kind: 'mantis' },
        animal: {
          ...nymph.animal,
          labelCode: text,
          injuries: text,
          note: text,
          lastFed: { on: '2026-11-23', prey: text },
        },
      })
      expect((await readPdf(renderCareSheet(payload))).pages.length).toBe(1)
    }
  })

  it('of any kind can always be printed', () => {
    const anything = fc.string({ unit: 'binary', maxLength: 60 })
    const property = fc.property(anything, anything, (commonName, note) => {
      const species = { scientificName: note, commonName, kind: 'mantis' } as const
      const animal = { ...bareRecord().animal, note, injuries: commonName }
      expect(renderCareSheet(bareRecord({ species, animal })).length).toBeGreaterThan(1_000)
    })
    fc.assert(property, { numRuns: isLong ? 60 : 15 })
  })
})

describe('displayable text', () => {
  it('replaces a sign that no font on board can draw', () => {
    expect(displayableText('漢 and 🦗')).toBe(`${MISSING_SIGN} and ${MISSING_SIGN}`)
  })

  it('drops signs that turn the text around or hide in it', () => {
    expect(displayableText('a\u202Eb\u2066c\u200Bd\uFEFFe\uFE0Ff\u0000g\uD800h')).toBe('abcdef gh')
  })

  it('cuts down heaps of accents but keeps the accents of a language', () => {
    expect(displayableText('Z\u0334\u0321\u031B\u0333\u0317')).toHaveLength(3)
    expect(displayableText('é ü ñ ç Å ệ')).toBe('é ü ñ ç Å ệ')
  })

  it('keeps the narrow spaces that the formats of a language use', () => {
    expect(displayableText('20\u202f°C 1\u00a0234 28 Nov\u2009–\u20098 Dec')).toBe(
      '20\u202f°C 1\u00a0234 28 Nov\u2009–\u20098 Dec',
    )
  })

  it('keeps the signs of the sexes and of the states', () => {
    expect(displayableText('♀ ♂ ● ◐ ■ △ ○ − – ’ …')).toBe('♀ ♂ ● ◐ ■ △ ○ − – ’ …')
  })
})

describe('letters that no font on board has', () => {
  it('are named before they are printed as squares, each once, and no others', () => {
    expect(unprintableSigns('Orchid mantis ♀ Ελλ Кир שלום 1–2 °C')).toEqual([])
    expect(unprintableSigns('蘭花螳螂 mantis 蘭 ไทย')).toEqual(['蘭', '花', '螳', '螂', 'ไ', 'ท', 'ย'])
    expect(unprintableSigns(MISSING_SIGN)).toEqual([])
  })
})
