import { describe, expect, it } from 'vitest'
import { buyerWords } from '@/lib/documents/order/buyer-words'
import { renderSlip, renderSlipOffThread, type SlipPayload } from '@/lib/documents/order/slip'
import { orderLineText } from '@/lib/documents/wording/sold'
import { firstDispatchDays } from '@/lib/domain/dispatch/days'
import { type DescribedLine, describeLine } from '@/lib/domain/order/description'
import { LANGUAGES } from '@/lib/messages/language'
import { animal, question, TODAY } from '../cases/traveller'
import { readPdf } from './read-pdf'
import { HOSTILE } from './sheet-samples'

const slip: SlipPayload = {
  kind: 'packing',
  language: 'en',
  seller: { name: 'Larch Lane Mantids', contact: 'hello@larch-lane.example' },
  number: 12,
  recipient: { name: 'R. Alder', address: 'Mill Lane 3\n79100 Upper Weir', phone: '' },
  packedOn: '2026-12-01',
  arriveOn: '2026-12-02',
  paidOn: '2026-11-28',
  owed: null,
  claimHours: 24,
  packing: 'heat-pack',
  range: { lowC: 12, highC: 28 },
  lines: [{ words: '2 × Hymenopus coronatus, 4th instar, female', labels: ['K7Q 97', 'M2P 41'] }],
}

describe('the papers of an order', () => {
  it('say on a packing slip who gets what, what to do and until when a loss is told', async () => {
    const { text, pages, isTagged, fonts } = await readPdf(await renderSlipOffThread(slip))
    for (const said of [
      'Packing slip',
      'Order 12',
      'R. Alder',
      'K7Q 97',
      'within 24 hours',
      '1 December 2026',
    ])
      expect(text).toContain(said)
    expect([pages.length, isTagged, fonts.every(({ isEmbedded }) => isEmbedded)]).toEqual([1, true, true])
  })

  it('say on the box how to carry it, and of a heat pack only where there is one', async () => {
    const box = await readPdf(renderSlip({ ...slip, kind: 'carrier' }))
    expect(box.text).toContain('between 12 and 28 °C')
    expect(box.text).toContain('heat pack')
    expect(box.pages[0]?.widthMm).toBeCloseTo(100, 0)
    const plain = await readPdf(renderSlip({ ...slip, kind: 'carrier', packing: 'plain' }))
    expect(plain.text).not.toContain('heat pack')
  })

  it('say on a collection slip what is kept, and no address', async () => {
    const { text } = await readPdf(renderSlip({ ...slip, kind: 'collection', packedOn: null }))
    expect(text).toContain('Paid on 28 November 2026')
    expect(text).toContain('Not ready yet')
    expect(text).not.toContain('Mill Lane')
  })

  it('of something that is not paid whole says what is still to be paid, in every language', async () => {
    for (const language of LANGUAGES) {
      const { text } = await readPdf(renderSlip({ ...slip, kind: 'collection', language, owed: '€8.00' }))
      expect(text).toContain('€8.00')
    }
  })

  it.each(LANGUAGES)('stay on one page in %s with long and hostile words', async (language) => {
    for (const kind of ['packing', 'carrier', 'collection'] as const) {
      const recipient = { name: HOSTILE.name, address: HOSTILE.script, phone: '0' }
      const { pages } = await readPdf(renderSlip({ ...slip, kind, language, recipient }))
      expect([kind, pages.length]).toEqual([kind, 1])
    }
  })
})

describe('a line of an order', () => {
  const naming = { convention: 'hatchling-is-first', style: 'ordinal' } as const
  const line = { scientificName: 'Hymenopus coronatus', sex: 'any', takes: 'nymph', fromMoults: 3 } as const
  const say = (language: (typeof LANGUAGES)[number], more: Partial<DescribedLine>) =>
    orderLineText({ ...line, untilMoults: null, ...more }, naming, language)

  it('is worded in English as the order itself words it', () => {
    const lines: Partial<DescribedLine>[] = [
      ...[{}, { takes: 'adult' as const, sex: 'female' as const }, { untilMoults: 3 }, { untilMoults: 4 }],
      ...[{ takes: 'either' as const, fromMoults: 0 }, { takes: 'either' as const }],
      { takes: 'either' as const, untilMoults: 4, sex: 'male' as const },
    ]
    for (const more of lines)
      expect(say('en', more)).toBe(describeLine({ ...line, untilMoults: null, ...more }, naming))
  })

  it('is worded in the language of its slip', () => {
    expect(say('de', { untilMoults: 4, sex: 'female' })).toBe(
      'Hymenopus coronatus, 4. bis 5. Larvenstadium, weiblich',
    )
    expect(say('fr', {})).toBe('Hymenopus coronatus, nymphe à partir du 4e stade, sexe indifférent')
    expect(say('es', { takes: 'either', fromMoults: 0 })).toBe(
      'Hymenopus coronatus, cualquier estadio, sexo indistinto',
    )
    expect(say('nl', { takes: 'adult', sex: 'male' })).toBe('Hymenopus coronatus, volwassen, mannetje')
  })
})

describe('what a buyer is written about an order that waits', () => {
  const words = (daysSinceMoult: number, language: (typeof LANGUAGES)[number] = 'en') =>
    buyerWords(
      {
        number: 12,
        way: 'sent',
        answer: firstDispatchDays(question({ animals: [animal('A', daysSinceMoult)] })),
        today: TODAY,
      },
      language,
    )

  it('names the day and the reason, and nobody', () => {
    expect(words(1)).toBe(
      'About your order 12:\n\nOne of the animals has just moulted. Its skin is still soft, and it must not travel ' +
        'before it has hardened. We plan to send it on 1 December 2026; it should arrive on 2 December 2026. Please ' +
        'tell us if nobody can take it in on that day. Thank you for your patience: the animal needs it.',
    )
    expect(words(28)).toContain('will probably moult soon')
    expect(words(28)).toMatch(/We plan to send it on \d+ December 2026/)
  })

  it.each(LANGUAGES)('is said in %s', (language) => {
    expect(words(1, language)).toContain('12')
    if (language !== 'en') expect(words(1, language)).not.toContain('moult')
  })
})
