import { describe, expect, it } from 'vitest'
import { type ReceiptPayload, renderReceipt, renderReceiptOffThread } from '@/lib/documents/receipt/render'
import type { SoldFacts } from '@/lib/domain/sale/sold-facts'
import { LANGUAGES, type Language } from '@/lib/messages/language'
import { readPdf } from './read-pdf'
import { HOSTILE } from './sheet-samples'

const naming = { convention: 'hatchling-is-first', style: 'ordinal' } as const
const HYMENOPUS: SoldFacts = {
  ...{ kind: 'animal', scientificName: 'Hymenopus coronatus', moults: 3, isAdult: false, naming },
  ...{ sex: 'female', certainty: 'certain' },
}
const payload: ReceiptPayload = {
  paper: 'roll',
  language: 'en',
  currency: 'EUR',
  seller: { name: 'The Glass Fern', contact: 'counter@glass-fern.example', words: 'Live arrival: 24 hours.' },
  receipt: '207',
  on: '2026-11-28',
  soldBy: 'Ines Okoro',
  buyer: { name: 'Ada Quillfeather', address: 'Teasel Row 4\n10115 Berlin' },
  certifiedNumber: 'K-2026-0091',
  lines: [
    {
      ...{
        label: 'K7Q97',
        description: 'Hymenopus coronatus, 4th instar, female',
        quantity: 1,
        isCounted: false,
      },
      facts: HYMENOPUS,
      ...{ unitPriceMinor: 2500, discountMinor: 0, priceMinor: 2500, returned: 0 },
    },
    {
      ...{ label: null, description: '120 ml cup', facts: null, quantity: 3, isCounted: true },
      ...{ unitPriceMinor: 90, discountMinor: 20, priceMinor: 250, returned: 1 },
    },
  ],
  totalMinor: 2750,
  taxIncluded: true,
  taxes: [{ percent: 19, netMinor: 2311, taxMinor: 439 }],
  payments: [{ kind: 'cash', on: '2026-11-28', amountMinor: 2750, givenMinor: 3000 }],
  refunds: [],
  owedMinor: null,
  returns: [{ returnNumber: 4, on: '2026-11-29', refundMinor: 83 }],
  note: 'Collects on Friday.',
}

const ALL_FACTS: SoldFacts[] = [
  HYMENOPUS,
  { ...HYMENOPUS, isAdult: true, sex: 'male', certainty: 'probable' },
  { kind: 'lot', scientificName: 'Creobroter spp.', lot: '1.2.3', hatchedOn: '2026-11-03' },
  { kind: 'egg_case', scientificName: 'Tenodera sinensis', label: 'E-12', laidOn: '2026-10-05' },
  { kind: 'culture', line: 'hydei', name: 'D. hydei', label: 'F-3', startedOn: '2026-11-20' },
  { kind: 'pack', line: 'own-line', name: 'Moths of ours', items: 50 },
]
const IN_LANGUAGES: Partial<Record<Language, string[]>> = {
  de: [
    ...[
      'Beleg 207',
      '28. November 2026',
      'Verkauft von Ines Okoro',
      'Für Ada Quillfeather',
      'Summe 1.234,56 €',
    ],
    ...['4. Larvenstadium (Schlüpfling = 1. Larvenstadium), weiblich', 'adult, vermutlich männlich'],
    ...[
      'Gruppe 1.2.3, geschlüpft am 3. Nov. 2026',
      'Eipaket von Tenodera sinensis, E-12, gelegt am 5. Okt. 2026',
    ],
    ...[
      '3 × 1.234,56 €',
      'abzüglich 0,20 €',
      '2 kamen zurück',
      'Enthält 8,1 % Steuer auf 2.311,00 €',
      'Rückgeld',
      'Große Fruchtfliegen (hydei), Zuchtansatz F-3',
      'Moths of ours, 50 in einer Packung',
    ],
    ...['Bar, 30,00 € gegeben', 'Rückgabe 4, 29. November 2026', 'kein Beleg einer zertifizierten Kasse'],
  ],
  fr: [
    ...['Reçu 207', '28 novembre 2026', 'Vendu par Ines Okoro', 'Total 1 234,56 €', '4e stade', 'femelle'],
    ...['lot 1.2.3, éclosion le 3 nov. 2026', 'Oothèque de Tenodera sinensis, E-12, ponte le 5 oct. 2026'],
    ...['Dont 8,1 % de taxe sur 2 311,00 €', '2 retournés', 'Rendu', 'Retour 4, 29 novembre 2026'],
  ],
  es: [
    ...[
      'Recibo 207',
      '28 de noviembre de 2026',
      'Vendido por Ines Okoro',
      '1234,56 €',
      '4.º estadio',
      'hembra',
    ],
    ...[
      'lote 1.2.3, nacidos el 3 nov 2026',
      'Ooteca de Tenodera sinensis, E-12',
      'Incluye 8,1 % de impuesto',
    ],
    ...['2 devueltos', 'Cambio', 'Devolución 4, 29 de noviembre de 2026'],
  ],
  nl: [
    ...[
      'Kwitantie 207',
      '28 november 2026',
      'Verkocht door Ines Okoro',
      '€ 1.234,56',
      '4e stadium',
      'vrouwtje',
    ],
    ...[
      'groep 1.2.3, uitgekomen op 3 nov 2026',
      'Eipakket van Tenodera sinensis, E-12',
      'Inclusief 8,1% belasting',
    ],
    ...['2 kwamen terug', 'Wisselgeld', 'Retour 4, 29 november 2026'],
  ],
}

describe('a receipt', () => {
  it('says what was sold, what it came to, how it was paid and what came back', async () => {
    const { text } = await readPdf(renderReceipt(payload))
    for (const said of [
      'Receipt 207',
      'K7Q 97',
      'Hymenopus coronatus',
      '3 × €0.90',
      'less €0.20',
      '1 came back',
      '€27.50',
      'Includes 19 % tax on €23.11',
      '€30.00 handed over',
      'Change',
      '€2.50',
      'K-2026-0091',
      'Ada Quillfeather',
      'Return 4',
      'no receipt of a certified till',
    ])
      expect(text).toContain(said)
  })

  it.each(Object.entries(IN_LANGUAGES))('reads in %s as its buyer does', async (language, said) => {
    const lines = ALL_FACTS.map((facts) => ({
      ...payload.lines[0]!,
      ...{ facts, description: 'as it was written down in English', returned: 0 },
    }))
    const counted = { ...payload.lines[1]!, unitPriceMinor: 123_456, quantity: 3, returned: 2 }
    const { text } = await readPdf(
      renderReceipt({
        ...payload,
        language: language as Language,
        lines: [...lines, counted],
        taxes: [{ percent: 8.1, netMinor: 231_100, taxMinor: 439 }],
        totalMinor: 123_456,
      }),
    )
    const plain = text.replaceAll(/\s/g, ' ')
    for (const words of said) expect(plain).toContain(words)
    expect(plain).not.toContain('as it was written down in English')
    // Nothing of the English paper is left on it.
    for (const english of ['Paid', 'came back', 'hatched', 'handed over', 'Sold by', 'November 2026'])
      if (!said.some((words) => words.includes(english))) expect(plain).not.toContain(english)
  })

  it('in English says what was written down that day, in every language what has no facts', async () => {
    for (const language of LANGUAGES) {
      const { text } = await readPdf(renderReceipt({ ...payload, language }))
      expect(text).toContain('120 ml cup')
    }
    const { text } = await readPdf(renderReceipt(payload))
    expect(text).toContain('Hymenopus coronatus, 4th instar, female')
  })

  it('of an order says on which days it was paid, what went back, and what is still to be paid', async () => {
    const paid = {
      payments: [
        { kind: 'transfer' as const, on: '2026-11-20', amountMinor: 1500, givenMinor: null },
        { kind: 'card' as const, on: '2026-11-28', amountMinor: 700, givenMinor: null },
      ],
      refunds: [{ kind: 'transfer' as const, on: '2026-11-30', amountMinor: 300 }],
      owedMinor: 850,
    }
    const { text } = await readPdf(renderReceipt({ ...payload, ...paid }))
    for (const said of [
      'Paid by transfer, 20 November 2026',
      '€15.00',
      'Paid by card',
      'Given back by transfer, 30 November 2026',
      '−€3.00',
      'Still to be paid',
      '€8.50',
    ])
      expect(text).toContain(said)
    expect(text).not.toContain('Paid by card, ')
  })

  it('is one strip on an 80 mm roll, and a page of the asked size otherwise', async () => {
    const widths = { roll: 80, a4: 210, letter: 215.9 }
    for (const [paper, widthMm] of Object.entries(widths)) {
      const bytes = await renderReceiptOffThread({ ...payload, paper: paper as ReceiptPayload['paper'] })
      const { pages } = await readPdf(bytes)
      expect([paper, pages.length]).toEqual([paper, 1])
      expect(pages[0]?.widthMm).toBeCloseTo(widthMm, 0)
    }
  })

  it('prints whatever people type, and a hundred lines', async () => {
    for (const hostile of Object.values(HOSTILE)) {
      const lines = Array.from({ length: 100 }, () => ({
        ...payload.lines[0]!,
        description: String(hostile),
      }))
      const { pages } = await readPdf(renderReceipt({ ...payload, note: String(hostile), lines }))
      expect(pages.length).toBeGreaterThan(0)
    }
  })
})
