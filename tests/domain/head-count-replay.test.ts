import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { orderEntries, type ReplayEntry } from '@/lib/domain/head-count/replay'

const entry = (id: string, more: Partial<ReplayEntry>): ReplayEntry => ({
  id,
  clutchId: 'clutch',
  individualId: null,
  from: 'uncounted',
  to: 'together',
  count: 1,
  reverses: null,
  ...more,
})
const NOBODY = new Map<string, string | null>()
const idsOf = (entries: ReplayEntry[] | undefined) => entries?.map(({ id }) => id)

describe('playing a ledger again', () => {
  it('keeps the order in which the entries were made', () => {
    const entries = [
      entry('2', { from: 'together', to: 'dead', count: 3 }),
      entry('1', { count: 5 }),
      entry('3', { from: 'together', to: 'single', individualId: 'ada' }),
    ]
    expect(idsOf(orderEntries(entries, new Map([['ada', 'clutch']])))).toEqual(['1', '2', '3'])
  })

  it('lets two of one moment change places where the later one has to come first', () => {
    const entries = [entry('1', { from: 'together', to: 'dead', count: 2 }), entry('2', { count: 2 })]
    expect(idsOf(orderEntries(entries, NOBODY))).toEqual(['2', '1'])
  })

  it('takes a reversal after what it reverses, and an animal that was bought', () => {
    const bought = { clutchId: null, individualId: 'ben' }
    const entries = [
      entry('1', { ...bought, from: 'sold', to: 'single', reverses: '3' }),
      entry('2', { ...bought, to: 'single' }),
      entry('3', { ...bought, from: 'single', to: 'sold' }),
    ]
    expect(idsOf(orderEntries(entries, new Map([['ben', null]])))).toEqual(['2', '3', '1'])
  })

  it('lets a recount find more than was missed, and nothing else be less than nothing', () => {
    expect(
      orderEntries([entry('1', { from: 'unaccounted', to: 'together', count: 2 })], NOBODY),
    ).toHaveLength(1)
    expect(orderEntries([entry('1', { from: 'together', to: 'dead' })], NOBODY)).toBeUndefined()
  })

  it.each([
    ['an animal sold twice', [entry('1', {}), sale('2'), sale('3')]],
    ['an animal of another clutch', [entry('1', {}), { ...sale('2'), clutchId: 'other' }]],
    ['an animal that nobody knows', [entry('1', {}), { ...sale('2'), individualId: 'nobody' }]],
    ['two animals under one name', [entry('1', { count: 2 }), { ...sale('2'), count: 2 }]],
    ['a move to where it is', [entry('1', { from: 'together' })]],
    ['a move of nobody', [entry('1', { count: 0 })]],
    ['nobody and no clutch', [entry('1', { clutchId: null })]],
    ['a reversal of what is not there', [entry('1', { reverses: '9' })]],
  ])('refuses %s', (_what, entries) => {
    expect(orderEntries(entries, new Map([['ada', 'clutch']]))).toBeUndefined()
  })

  it('finds an order for every ledger, however its entries are mixed up', () => {
    const steps = fc.array(
      fc.record({ from: fc.nat(3), to: fc.nat(3), count: fc.integer({ min: 1, max: 4 }) }),
      {
        maxLength: 40,
      },
    )
    fc.assert(
      fc.property(steps, fc.infiniteStream(fc.nat()), (wanted, noise) => {
        const made = playOut(wanted)
        const mixed = made.map((each) => ({ each, key: noise.next().value })).sort((a, b) => a.key - b.key)
        const ordered = orderEntries(
          mixed.map(({ each }) => each),
          NOBODY,
        )
        expect(idsOf(ordered)).toEqual(idsOf(made))
      }),
    )
  })
})

function sale(id: string): ReplayEntry {
  return entry(id, { from: 'together', to: 'sold', individualId: 'ada' })
}

const STATES = ['together', 'single', 'dead', 'escaped'] as const

/** A ledger in which each entry was possible when it was made. */
function playOut(steps: { from: number; to: number; count: number }[]): ReplayEntry[] {
  const counts = [20, 0, 0, 0]
  const made = [entry('000', { count: 20 })]
  for (const { from, to, count } of steps) {
    const [source, target] = [STATES[from] ?? 'together', STATES[to] ?? 'dead']
    if (source === target || (counts[from] ?? 0) < count) continue
    counts[from] = (counts[from] ?? 0) - count
    counts[to] = (counts[to] ?? 0) + count
    made.push(entry(String(made.length).padStart(3, '0'), { from: source, to: target, count }))
  }
  return made
}
