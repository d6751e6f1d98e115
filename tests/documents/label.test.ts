import QRCode from 'qrcode'
import { describe, expect, it } from 'vitest'
import { type LabelPayload, renderLabels, renderLabelsOffThread } from '@/lib/documents/label/render'
import { qrSvg } from '@/lib/documents/qr'
import { LABEL_SHEETS, paperOf, placesOn } from '@/lib/domain/label/sheet'
import { LANGUAGES } from '@/lib/messages/language'
import { readPdf } from './read-pdf'
import { HOSTILE, ORDINAL } from './sheet-samples'

const label: LabelPayload = {
  code: 'K7Q 97',
  scientificName: 'Hymenopus coronatus',
  stage: { moults: 1, isAdult: false, naming: ORDINAL },
  hatchedOn: '2026-11-02',
  url: 'https://oothecary.example/w/larch-lane/c/K7Q97',
}

describe('a run of labels', () => {
  it('has one label of 62 × 29 mm for each cup, in order', async () => {
    const codes = Array.from({ length: 38 }, (_, index) => `K7Q ${20 + index}`)
    const bytes = await renderLabelsOffThread({
      language: 'en',
      labels: codes.map((code) => ({ ...label, code })),
    })
    const { pages } = await readPdf(bytes)
    expect(pages.map((page) => /K7Q \d\d/.exec(page.text)?.[0])).toEqual(codes)
    expect(pages[0]?.widthMm).toBeCloseTo(62, 1)
    expect(pages[0]?.heightMm).toBeCloseTo(29, 1)
  })

  it.each(LABEL_SHEETS)('stands on sheets $id from the first free label on', async (sheet) => {
    const codes = Array.from({ length: 12 }, (_, index) => `K7Q ${20 + index}`)
    const labels = codes.map((code) => ({ ...label, code }))
    const onFirst = Math.min(4, placesOn(sheet))
    const startAt = placesOn(sheet) - onFirst + 1
    const { pages, isTagged } = await readPdf(
      renderLabels({ language: 'en', labels, layout: { sheet, startAt } }),
    )
    expect(isTagged).toBe(true)
    const rest = codes.slice(onFirst)
    const later = Array.from({ length: Math.ceil(rest.length / placesOn(sheet)) }, (_, page) =>
      rest.slice(page * placesOn(sheet), (page + 1) * placesOn(sheet)),
    )
    expect(pages.map(({ text }) => text.match(/K7Q \d\d/g))).toEqual([codes.slice(0, onFirst), ...later])
    expect(pages[0]?.widthMm).toBeCloseTo(paperOf(sheet).widthMm, 0)
    expect(pages[0]?.heightMm).toBeCloseTo(paperOf(sheet).heightMm, 0)
  })

  it('carries code, species, instar with its convention and hatch date', async () => {
    const read = await readPdf(renderLabels({ language: 'en', labels: [label] }))
    for (const said of [
      'K7Q 97',
      'Hymenopus coronatus',
      '2nd instar',
      'hatchling counted as 1st',
      'hatched 2 Nov 2026',
    ]) {
      expect(read.text).toContain(said)
    }
    expect(read.isTagged).toBe(true)
    expect(read.fonts.map((font) => font.name)).toContain('Literata-Italic')
    expect(read.fonts.every((font) => font.isEmbedded)).toBe(true)
  })

  it.each(LANGUAGES)('keeps long and hostile words on one label in %s', async (language) => {
    const labels: LabelPayload[] = [
      {
        ...label,
        code: 'WWWW WWWWWWW',
        scientificName: 'Pseudocreobotra wahlbergii ssp. longissima',
        lastMoultOn: '2026-11-20',
      },
      { ...label, scientificName: HOSTILE.name },
      { ...label, scientificName: HOSTILE.script },
      { code: 'C-31', scientificName: '' },
    ]
    expect((await readPdf(renderLabels({ language, labels }))).pages.length).toBe(4)
  })

  it('refuses to be empty', () => {
    expect(() => renderLabels({ language: 'en', labels: [] })).toThrow('at least one')
  })
})

describe('the code to scan', () => {
  it('has the modules of the standard inside a quiet zone of four', () => {
    const { modules } = QRCode.create(label.url ?? '', { errorCorrectionLevel: 'M' })
    const svg = qrSvg(label.url ?? '')
    const side = modules.size + 8
    expect(svg).toContain(`viewBox="0 0 ${side} ${side}"`)
    const dark = new Set<string>()
    for (const [, x, y, width] of svg.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) {
      for (let step = 0; step < Number(width); step += 1) dark.add(`${Number(x) + step} ${y}`)
    }
    for (let row = 0; row < modules.size; row += 1) {
      for (let column = 0; column < modules.size; column += 1) {
        expect(dark.has(`${column + 4} ${row + 4}`)).toBe(Boolean(modules.get(row, column)))
      }
    }
  })
})
