import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { shareOut } from '@/lib/domain/money/share'
import { type BasketLine, priceBasket, refundOf } from '@/lib/domain/sale/basket'
import { readLot, writeLot } from '@/lib/domain/sale/lot'
import { settle } from '@/lib/domain/sale/payment'

const line = (unitPriceMinor: number, taxBasisPoints = 1900, more: Partial<BasketLine> = {}): BasketLine => ({
  quantity: 1,
  discountMinor: 0,
  unitPriceMinor,
  taxBasisPoints,
  ...more,
})

const lineOf = fc.record({
  quantity: fc.integer({ min: 1, max: 40 }),
  unitPriceMinor: fc.integer({ min: 0, max: 500_000 }),
  discountMinor: fc.integer({ min: 0, max: 30_000 }),
  taxBasisPoints: fc.constantFrom(0, 700, 1900, 2100, 10_000),
})
const basketOf = fc.array(lineOf, { minLength: 1, maxLength: 12 })
const termsOf = fc.record({
  pricesIncludeTax: fc.boolean(),
  discountMinor: fc.integer({ min: 0, max: 99_999 }),
})

describe('a basket', () => {
  test('with tax in its prices: 19 % of 12.50 is 2.00, the rest is net', () => {
    const basket = priceBasket([line(1250)], { pricesIncludeTax: true, discountMinor: 0 })
    expect(basket.rates).toEqual([{ taxBasisPoints: 1900, netMinor: 1050, taxMinor: 200, grossMinor: 1250 }])
  })

  test('with tax on top: 19 % on 10.50 is 1.995, which is rounded half up once, to 2.00', () => {
    const basket = priceBasket([line(1050)], { pricesIncludeTax: false, discountMinor: 0 })
    expect(basket).toMatchObject({ totalMinor: 1250, taxMinor: 200 })
  })

  test('rounds once a rate, not once a line: three at 0.05 with 10 % on top bear 0.02 of tax', () => {
    const lines = [line(5, 1000), line(5, 1000), line(5, 1000)]
    const basket = priceBasket(lines, { pricesIncludeTax: false, discountMinor: 0 })
    expect(basket.taxMinor).toBe(2)
    expect(basket.lines.map(({ taxMinor }) => taxMinor)).toEqual([1, 1, 0])
  })

  test('shares a discount on the whole over the rates by what they cost', () => {
    const basket = priceBasket([line(3000, 1900), line(1000, 700)], {
      pricesIncludeTax: true,
      discountMinor: 400,
    })
    expect(basket.lines.map(({ priceMinor }) => priceMinor)).toEqual([2700, 900])
    expect(basket).toMatchObject({ totalMinor: 3600, discountMinor: 400 })
  })

  test('agrees with itself to the coin: lines, rates, discounts and total', () => {
    fc.assert(
      fc.property(basketOf, termsOf, (lines, terms) => {
        const basket = priceBasket(lines, terms)
        const sum = (values: number[]) => values.reduce((a, b) => a + b, 0)
        expect(sum(basket.lines.map(({ grossMinor }) => grossMinor))).toBe(basket.totalMinor)
        expect(sum(basket.rates.map(({ netMinor, taxMinor }) => netMinor + taxMinor))).toBe(basket.totalMinor)
        expect(sum(basket.lines.map(({ taxMinor }) => taxMinor))).toBe(basket.taxMinor)
        basket.lines.forEach(({ priceMinor, discountMinor, taxMinor, grossMinor }, index) => {
          const { quantity = 0, unitPriceMinor = 0 } = lines[index] ?? {}
          expect(priceMinor + discountMinor).toBe(quantity * unitPriceMinor)
          expect(Math.min(priceMinor, taxMinor, grossMinor, discountMinor)).toBeGreaterThanOrEqual(0)
          expect([priceMinor, taxMinor].every(Number.isSafeInteger)).toBe(true)
        })
        for (const { taxBasisPoints, netMinor, taxMinor } of basket.rates)
          expect(Math.abs(taxMinor - (netMinor * taxBasisPoints) / 10_000)).toBeLessThanOrEqual(1)
      }),
    )
  })

  test('comes back in any parts for exactly what was paid', () => {
    const soldOf = fc.record({
      quantity: fc.integer({ min: 1, max: 30 }),
      grossMinor: fc.integer({ min: 0, max: 1_000_000 }),
      cuts: fc.array(fc.integer({ min: 1, max: 30 }), { maxLength: 30 }),
    })
    fc.assert(
      fc.property(soldOf, ({ quantity, grossMinor, cuts }) => {
        const taxMinor = Math.floor(grossMinor / 6)
        const back = { refund: 0, tax: 0, pieces: 0 }
        for (const cut of [...cuts, quantity]) {
          const pieces = Math.min(cut, quantity - back.pieces)
          if (pieces === 0) continue
          const part = refundOf({ quantity, returned: back.pieces, grossMinor, taxMinor }, pieces)
          expect(part.taxMinor).toBeLessThanOrEqual(part.refundMinor)
          back.refund += part.refundMinor
          back.tax += part.taxMinor
          back.pieces += pieces
        }
        expect(back).toEqual({ refund: grossMinor, tax: taxMinor, pieces: quantity })
      }),
    )
  })
})

test('a piece that is worth less than a coin holds no more tax than money', () => {
  const line = { quantity: 17, returned: 0, grossMinor: 15, taxMinor: 2 }
  const parts = [4, 1, 12].map((pieces, index) =>
    refundOf({ ...line, returned: [0, 4, 5][index] ?? 0 }, pieces),
  )
  expect(parts.every(({ refundMinor, taxMinor }) => taxMinor <= refundMinor)).toBe(true)
  expect(parts.reduce((sum, { refundMinor }) => sum + refundMinor, 0)).toBe(15)
})

test('a sum dealt out is whole, all dealt out, and to nobody more than a coin off', () => {
  const weightsOf = fc.array(fc.integer({ min: 0, max: 10_000 }), { minLength: 1, maxLength: 20 })
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1_000_000 }), weightsOf, (sum, weights) => {
      const whole = weights.reduce((a, b) => a + b, 0)
      const shares = shareOut(sum, weights)
      expect(shares.reduce((a, b) => a + b, 0)).toBe(whole === 0 ? 0 : sum)
      shares.forEach((share, index) => {
        const exact = whole === 0 ? 0 : (sum * (weights[index] ?? 0)) / whole
        expect(Math.abs(share - exact)).toBeLessThan(1)
      })
    }),
  )
})

describe('what was put down', () => {
  test.each([
    ['nothing said', 1250, [], { status: 'settled', parts: [], changeMinor: 0 }],
    [
      'card for all of it',
      1250,
      [{ kind: 'card', minor: null }],
      { status: 'settled', parts: [{ kind: 'card', amountMinor: 1250, givenMinor: null }], changeMinor: 0 },
    ],
    [
      'a note of twenty',
      1250,
      [{ kind: 'cash', minor: 2000 }],
      { status: 'settled', parts: [{ kind: 'cash', amountMinor: 1250, givenMinor: 2000 }], changeMinor: 750 },
    ],
    [
      'a voucher and the rest by card',
      1250,
      [
        { kind: 'voucher', minor: 1000 },
        { kind: 'card', minor: null },
      ],
      {
        status: 'settled',
        parts: [
          { kind: 'voucher', amountMinor: 1000, givenMinor: null },
          { kind: 'card', amountMinor: 250, givenMinor: null },
        ],
        changeMinor: 0,
      },
    ],
    ['too little', 1250, [{ kind: 'cash', minor: 1000 }], { status: 'short', missingMinor: 250 }],
    [
      'a card for more than it costs',
      1250,
      [{ kind: 'card', minor: 1300 }],
      { status: 'too-much', overMinor: 50 },
    ],
  ] as const)('%s', (...row) => {
    const [, total, paid, outcome] = row
    expect(settle(total, paid)).toEqual(outcome)
  })

  test('in any settlement the parts come to the total and the change to what was over', () => {
    const partOf = fc.record({
      kind: fc.constantFrom('cash' as const, 'card' as const, 'voucher' as const),
      minor: fc.option(fc.integer({ min: 0, max: 9000 })),
    })
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 9000 }),
        fc.array(partOf, { minLength: 1, maxLength: 4 }),
        (due, paid) => {
          const settled = settle(due, paid)
          if (settled.status !== 'settled') return
          expect(settled.parts.reduce((sum, { amountMinor }) => sum + amountMinor, 0)).toBe(due)
          expect(settled.changeMinor).toBeGreaterThanOrEqual(0)
          for (const { amountMinor, givenMinor } of settled.parts)
            expect(givenMinor ?? amountMinor).toBeGreaterThanOrEqual(amountMinor)
        },
      ),
    )
  })
})

test('a lot is read and written as the trade does', () => {
  expect(readLot('1.2.3')).toEqual({ males: 1, females: 2, unsexed: 3 })
  expect(readLot(' 2.0 ')).toEqual({ males: 2, females: 0, unsexed: 0 })
  expect(readLot('3')).toBeNull()
  expect(writeLot({ males: 1, females: 2, unsexed: 3 })).toBe('1.2.3')
})
