import { describe, expect, it } from 'vitest'
import { type ReceiptPayload, renderReceipt, renderReceiptOffThread } from '@/lib/documents/receipt/render'
import { readPdf } from './read-pdf'
import { HOSTILE } from './sheet-samples'

const payload: ReceiptPayload = {
  paper: 'roll',
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
      ...{ unitPriceMinor: 2500, discountMinor: 0, priceMinor: 2500, returned: 0 },
    },
    {
      ...{ label: null, description: '120 ml cup', quantity: 3, isCounted: true },
      ...{ unitPriceMinor: 90, discountMinor: 20, priceMinor: 250, returned: 1 },
    },
  ],
  totalMinor: 2750,
  taxIncluded: true,
  taxes: [{ percent: 19, netMinor: 2311, taxMinor: 439 }],
  payments: [{ kind: 'cash', amountMinor: 2750, givenMinor: 3000 }],
  returns: [{ returnNumber: 4, on: '2026-11-29', refundMinor: 83 }],
  note: 'Collects on Friday.',
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
