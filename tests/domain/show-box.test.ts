import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { seriesOfPart, writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import { type BoxCandidate, checkForBox, chooseForBox, dealToParts } from '@/lib/domain/show-box/choose'
import { settleBox, settleItems } from '@/lib/domain/show-box/settle'
import { animal, TODAY } from '../cases/traveller'

const naming = { convention: 'hatchling-is-first', style: 'ordinal' } as const
const asked = { packOn: TODAY, returnOn: TODAY, today: TODAY, naming }
const one = (id: string, kind: string, chance: number): BoxCandidate => ({ id, kind, chance })
const candidates = fc.uniqueArray(
  fc.record({
    id: fc.uuid(),
    kind: fc.constantFrom('orchid', 'flower', 'ghost'),
    chance: fc.double({ min: 0.9, max: 1, noNaN: true }),
  }),
  { selector: ({ id }) => id, maxLength: 40 },
)

describe('choosing for a show box', () => {
  it('takes the safest of each kind first, and the kinds by turns', () => {
    const room = [
      one('a', 'orchid', 0.99),
      one('b', 'orchid', 0.98),
      one('c', 'ghost', 0.91),
      one('d', 'orchid', 1),
    ]
    expect(chooseForBox(room, 3).map(({ id }) => id)).toEqual(['d', 'c', 'a'])
  })

  it('takes as many as are wanted or there are, never one twice, whatever the order they come in', () => {
    fc.assert(
      fc.property(candidates, fc.nat(50), (room, count) => {
        const chosen = chooseForBox(room, count)
        expect(chosen).toHaveLength(Math.min(count, room.length))
        expect(new Set(chosen.map(({ id }) => id)).size).toBe(chosen.length)
        expect(chooseForBox(room.toReversed(), count)).toEqual(chosen)
      }),
    )
  })

  it('leaves nobody of a kind at home who is safer than one it takes', () => {
    fc.assert(
      fc.property(candidates, fc.nat(50), (room, count) => {
        const chosen = new Set(chooseForBox(room, count).map(({ id }) => id))
        for (const kept of room.filter(({ id }) => !chosen.has(id)))
          for (const taken of room.filter(({ id, kind }) => chosen.has(id) && kind === kept.kind))
            expect(taken.chance).toBeGreaterThanOrEqual(kept.chance)
      }),
    )
  })

  it('deals the parts evenly, and each kind into all of them as far as it goes', () => {
    fc.assert(
      fc.property(candidates, fc.integer({ min: 1, max: 4 }), (room, parts) => {
        const dealt = [...dealToParts(room, parts).values()]
        const sizes = Array.from(
          { length: parts },
          (_, index) => dealt.filter((part) => part === index + 1).length,
        )
        expect(dealt).toHaveLength(room.length)
        expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1)
      }),
    )
  })

  it('asks of a long show what it asks of a long parcel: a moult on the way keeps it at home', () => {
    expect(checkForBox(animal('a', 4), asked).why).toBeNull()
    expect(checkForBox(animal('a', 4), { ...asked, returnOn: '2026-12-18' }).why).toMatch(/moult/)
    const adult = animal('a', 30, { isAdult: true })
    expect(checkForBox(adult, { ...asked, returnOn: '2027-01-10' }).why).toBeNull()
    expect(checkForBox(animal('a', 4, { gone: 'It was sold.' }), asked).why).toBe('It was sold.')
  })
})

describe('settling a show box', () => {
  const boxed = (label: string, whereabouts = 'single', receipt: string | null = null) => ({
    ...{ id: label.toLowerCase(), label, whereabouts, receipt },
  })

  it('counts everybody exactly once', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('single', 'sold', 'dead'), { maxLength: 12 }),
        fc.array(fc.nat(14)),
        (states, scanned) => {
          const animals = states.map((state, index) => boxed(`L${index}`, state))
          const { ends } = settleBox(
            animals,
            scanned.map((index) => `L${index}`),
          )
          expect(ends.map(({ id }) => id)).toEqual(animals.map(({ id }) => id))
          for (const { id, end } of ends) {
            const { whereabouts, label } = animals.find((each) => each.id === id)!
            const isHere = scanned.some((index) => `L${index}` === label)
            const expected = whereabouts === 'dead' ? 'left_out' : isHere ? 'home' : 'missing'
            expect(end).toBe(whereabouts === 'sold' ? 'sold' : expected)
          }
        },
      ),
    )
  })

  it('tells a cup that stands here although it was sold, by its receipt', () => {
    const { puzzles } = settleBox([boxed('A1', 'sold', 'S1A-4'), boxed('B2')], ['A1', 'B2', 'C3'])
    expect(puzzles).toEqual([
      { label: 'A1', why: expect.stringContaining('receipt S1A-4') },
      { label: 'C3', why: 'It was not in this box.' },
    ])
  })
})

describe('settling the things of a box', () => {
  const cups = { description: 'Cups', packed: 10, sold: 4, home: 6 }

  it('by count: what neither came home nor is on a receipt is missing, what is beyond is over', () => {
    expect(settleItems([cups])).toEqual({ missing: [], over: [] })
    expect(settleItems([{ ...cups, home: 5 }]).missing).toEqual([{ description: 'Cups', count: 1 }])
    expect(settleItems([{ ...cups, home: 8 }]).over).toEqual([{ description: 'Cups', count: 2 }])
  })

  it('judges nothing that nobody has counted, but more sold than packed is told at once', () => {
    expect(settleItems([{ ...cups, home: null }])).toEqual({ missing: [], over: [] })
    expect(settleItems([{ ...cups, sold: 12, home: null }]).over).toEqual([{ description: 'Cups', count: 2 }])
  })

  it('accounts for each of them: packed and over are sold, home and missing', () => {
    fc.assert(
      fc.property(fc.nat(50), fc.nat(50), fc.nat(50), (packed, sold, home) => {
        const { missing, over } = settleItems([{ ...cups, packed, sold, home }])
        expect(packed + (over[0]?.count ?? 0)).toBe(sold + home + (missing[0]?.count ?? 0))
      }),
    )
  })
})

describe('numbers of receipts', () => {
  it('name the series where there is one', () => {
    expect(writeReceiptNumber({ series: '', receiptNumber: 207 })).toBe('207')
    expect(writeReceiptNumber({ series: seriesOfPart(3, 2), receiptNumber: 12 })).toBe('S3B-12')
  })
})
