import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type Price, priceKey, priceOfAnimal, priceOfStock } from '@/lib/domain/price/price-list'
import { isAllowed, PERMISSIONS } from '@/lib/domain/role/permissions'
import { sayHold } from '@/lib/domain/sale/hold'
import { siblingsInBasket } from '@/lib/domain/sale/siblings'
import { readCell, writeCsv } from '@/lib/domain/table/csv'
import { wishOutlook } from '@/lib/domain/wish/outlook'

const price = (more: Partial<Price>): Price => ({
  ...{ kind: 'animal', speciesId: 's', moults: null, adult: false, sex: null },
  ...{ containerKindId: null, preySlug: null, priceMinor: 1000 },
  ...more,
})
const animal = { speciesId: 's', moults: 3, isAdult: false, sex: 'female' as const }

describe('the price of an animal', () => {
  test.each([
    ['of its species, where nothing else is said', [price({ priceMinor: 900 })], 900],
    ['of its sex before that', [price({}), price({ sex: 'female', priceMinor: 1500 })], 1500],
    [
      'of its instar before its sex',
      [price({ sex: 'female', priceMinor: 1500 }), price({ moults: 3, priceMinor: 1800 })],
      1800,
    ],
    [
      'of both before either',
      [price({ moults: 3, priceMinor: 1800 }), price({ moults: 3, sex: 'female', priceMinor: 2200 })],
      2200,
    ],
    ['none for another instar', [price({ moults: 4 })], null],
    ['none for adults alone', [price({ adult: true })], null],
    ['none for another species', [price({ speciesId: 't' })], null],
  ])('is that %s', (_, prices, expected) => {
    expect(priceOfAnimal(prices, animal)).toBe(expected)
  })

  test('of an adult is not that of a nymph with no moults', () => {
    const prices = [price({ moults: 0, priceMinor: 300 }), price({ adult: true, priceMinor: 4000 })]
    expect(priceOfAnimal(prices, { ...animal, moults: 0, isAdult: true })).toBe(4000)
  })

  test('has one key for one subject', () => {
    const keys = [price({}), price({ moults: 0 }), price({ adult: true }), price({ sex: 'male' })].map(
      priceKey,
    )
    expect(new Set(keys).size).toBe(4)
    expect(priceKey(price({ priceMinor: 1 }))).toBe(priceKey(price({ priceMinor: 2 })))
  })

  test('of stock is by what it is, of an egg case by its species', () => {
    const prices = [
      price({ kind: 'egg_case', priceMinor: 1800 }),
      price({ kind: 'pack', speciesId: null, preySlug: 'hydei', priceMinor: 350 }),
    ]
    expect(priceOfStock(prices, { kind: 'egg_case', id: 'e1', speciesId: 's' })).toBe(1800)
    expect(priceOfStock(prices, { kind: 'pack', id: 'hydei', speciesId: null })).toBe(350)
    expect(priceOfStock(prices, { kind: 'culture', id: 'hydei', speciesId: null })).toBeNull()
  })
})

describe('a table for a spreadsheet', () => {
  test('runs nothing, and every text can be had back', () => {
    const text = fc.string({ unit: 'grapheme' }).filter((each) => !/[",\r\n;]/.test(each))
    const started = fc
      .tuple(fc.constantFrom('=', '+', '-', '@', "'", '\t', ''), text)
      .map((parts) => parts.join(''))
    fc.assert(
      fc.property(started, (cell) => {
        const written = writeCsv(['A'], [[cell]]).split('\r\n')[1] ?? ''
        expect(written).not.toMatch(/^[=+\-@\t]/)
        expect(readCell(written)).toBe(cell)
      }),
    )
  })

  test('quotes what would break a line, and leaves figures alone', () => {
    expect(writeCsv(['A', 'B'], [['a "b", c', -4.5]])).toBe('A,B\r\n"a ""b"", c",-4.5\r\n')
  })
})

describe('a wish', () => {
  const series = (mean: number, variance: number, more = {}) => ({
    ...{ speciesId: 's', sex: 'female' as const, moults: 3, mean: [0, mean], variance: [0, variance] },
    ...more,
  })
  const wish = { speciesId: 's', sex: 'female' as const, moults: 3, adult: false, count: 3 }
  const at = { day: 1, promised: 0 }

  test('is likely where more than enough are expected, unlikely where fewer are, certain without spread', () => {
    expect(wishOutlook(wish, { series: [series(8, 4)] }, at).status).toBe('likely')
    expect(wishOutlook(wish, { series: [series(1, 1)] }, at).status).toBe('unlikely')
    expect(wishOutlook(wish, { series: [series(3, 0)] }, at).chance).toBe(1)
    expect(wishOutlook(wish, { series: [] }, at)).toEqual({ status: 'unlikely', chance: 0, expected: 0 })
  })

  test('counts no other sex, stage or species, and adults only for adults', () => {
    const others = [
      series(9, 1, { sex: 'unsexed' }),
      series(9, 1, { moults: 4 }),
      series(9, 1, { moults: null }),
      series(9, 1, { speciesId: 't' }),
    ]
    expect(wishOutlook(wish, { series: others }, at).expected).toBe(0)
    expect(wishOutlook({ ...wish, moults: null, adult: true }, { series: others }, at).expected).toBe(9)
  })

  test('is never likelier when more is wished for, or more is promised before', () => {
    const amount = fc.integer({ min: 0, max: 30 })
    fc.assert(
      fc.property(
        amount,
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        amount,
        (mean, variance, promised) => {
          const room = { series: [series(mean, variance)] }
          const chance = wishOutlook(wish, room, { day: 1, promised }).chance
          expect(wishOutlook({ ...wish, count: 4 }, room, { day: 1, promised }).chance).toBeLessThanOrEqual(
            chance,
          )
          expect(wishOutlook(wish, room, { day: 1, promised: promised + 1 }).chance).toBeLessThanOrEqual(
            chance,
          )
        },
      ),
    )
  })
})

test('a hold is said to others without a name, and not to whom it is for', () => {
  const holds = [{ individualId: 'a', buyerId: 'b', until: '2026-12-03' }]
  expect(sayHold(holds, { id: 'a', buyer: null, today: '2026-11-28' })).toMatch(/another buyer until 3 Dec/)
  expect(sayHold(holds, { id: 'a', buyer: 'b', today: '2026-11-28' })).toBeNull()
  expect(sayHold(holds, { id: 'c', buyer: null, today: '2026-11-28' })).toBeNull()
})

test('siblings in one basket are named to each other', () => {
  const basket = [
    { id: '1', label: 'R3B33', clutchId: 'c' },
    { id: '2', label: 'G9T26', clutchId: 'c' },
    { id: '3', label: 'P2M58', clutchId: null },
    { id: '4', label: 'R8T33', clutchId: null },
  ]
  expect([...siblingsInBasket(basket)]).toEqual([
    ['1', ['G9T 26']],
    ['2', ['R3B 33']],
  ])
})

test('the counter sells and sees no costs, pedigree, people or settings', () => {
  const may = PERMISSIONS.filter((permission) => isAllowed('counter', permission))
  expect(may).toEqual(
    expect.arrayContaining(['sale:write', 'buyer:write', 'reservation:write', 'register:read']),
  )
  for (const never of ['cost:read', 'pedigree:write', 'person:manage', 'token:manage', 'till:write'] as const)
    expect(may).not.toContain(never)
  for (const never of ['price-list:write', 'individual:write', 'audit:read', 'workspace:write'] as const)
    expect(may).not.toContain(never)
})
