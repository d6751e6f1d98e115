import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Entry } from '@/components/bench/queue/entry'
import { listSendable, settleEntries } from '@/components/bench/queue/send'
import { isReserved, reservedNumbers } from '@/lib/domain/label/run'
import {
  type BenchOpening,
  type BenchTap,
  benchStanding,
  missingAnimals,
} from '@/lib/domain/separation/bench-run'

const opening: BenchOpening = {
  together: 20,
  housed: 0,
  dead: 0,
  escaped: 0,
  isCounted: true,
  nextNumber: 101,
  endNumber: 104,
}
const cup = (id: string, number?: number): BenchTap => ({ id, kind: 'cup', ...(number ? { number } : {}) })

describe('a run at the bench, on the device', () => {
  test('counts each tap at once and gives the run’s numbers in turn, then leaves them to the service', () => {
    const taps = [cup('a', 101), cup('b', 102), { id: 'c', kind: 'dead' as const }, cup('d', 103)]
    expect(benchStanding(opening, taps)).toMatchObject({
      together: 16,
      housed: 3,
      dead: 1,
      escaped: 0,
      nextNumber: null,
      last: { id: 'd' },
    })
  })

  test('takes back the newest tap that stands, and never uses a label twice', () => {
    const taps: BenchTap[] = [cup('a', 101), cup('b', 102), { id: 'u', kind: 'undo', undoes: 'b' }]
    expect(benchStanding(opening, taps)).toMatchObject({
      housed: 1,
      together: 19,
      nextNumber: 103,
      last: { id: 'a' },
    })
  })

  test('forgets what the keeper has left out', () => {
    const taps: BenchTap[] = [{ ...cup('a', 101), isDropped: true }, cup('b', 102)]
    expect(benchStanding(opening, taps)).toMatchObject({ housed: 1, together: 19 })
  })

  test('knows how many a counted clutch lacks for the taps that wait', () => {
    expect(missingAnimals(0, [cup('a'), cup('b'), { id: 'c', kind: 'escaped' }])).toBe(3)
    expect(missingAnimals(2, [cup('a'), cup('b'), cup('c')])).toBe(1)
  })

  test('loses nobody between together, cups, dead and escaped', () => {
    const kind = fc.constantFrom<BenchTap['kind']>('cup', 'dead', 'escaped')
    fc.assert(
      fc.property(fc.array(kind, { maxLength: 20 }), (kinds) => {
        const taps = kinds.map((each, index) => ({ id: String(index), kind: each }))
        const { together, housed, dead, escaped } = benchStanding(opening, taps)
        expect(together + housed + dead + escaped).toBe(opening.together)
      }),
    )
  })

  test('sets aside more numbers than planned, and no other number is its own', () => {
    expect(reservedNumbers(40)).toBeGreaterThan(40)
    expect(isReserved(100, { first: 101, planned: 4 })).toBe(false)
    expect(isReserved(101, { first: 101, planned: 4 })).toBe(true)
    expect(isReserved(101 + reservedNumbers(4), { first: 101, planned: 4 })).toBe(false)
  })
})

const entry = (id: string, more: Partial<Entry> = {}): Entry => ({
  order: Number(id),
  run: 'run',
  opening,
  tap: { id, kind: 'cup' },
  operation: {
    id,
    workspaceId: 'w',
    personId: 'mara',
    run: 'run',
    kind: 'cup',
    payload: {},
    on: '2026-11-24',
    tappedAt: '2026-11-24T18:00:00Z',
    v: 1,
  },
  state: 'waiting',
  ...more,
})

describe('what a device sends', () => {
  test('goes in order, at most fifty at a time', () => {
    const entries = Array.from({ length: 60 }, (_, index) => entry(String(60 - index)))
    const ids = listSendable(entries, 'mara').map(({ operation }) => operation.id)
    expect(ids).toEqual(Array.from({ length: 50 }, (_, index) => String(index + 1)))
  })

  test('leaves out another person’s taps, those left out, and a run that waits for a word', () => {
    const dropped = entry('2', { tap: { id: '2', kind: 'cup', isDropped: true } })
    const refused = entry('3', { run: 'other', state: 'refused' })
    const behind = entry('4', { run: 'other' })
    const entries = [entry('1'), dropped, refused, behind]
    expect(listSendable(entries, 'mara').map(({ operation }) => operation.id)).toEqual(['1'])
    expect(listSendable(entries, 'somebody else')).toEqual([])
  })

  test('is settled by its own answer alone: what was held back keeps waiting', () => {
    const sent = [entry('1'), entry('2'), entry('3'), entry('4')]
    const settled = settleEntries(sent, [
      { id: '1', status: 'applied', label: 'K7Q97' },
      { id: '2', status: 'refused', code: 'more-than-left', message: 'Nobody is left.' },
      { id: '3', status: 'refused', code: 'held-back', message: 'An earlier one was refused.' },
    ])
    expect(settled.map(({ operation, state, label }) => [operation.id, state, label])).toEqual([
      ['1', 'sent', 'K7Q97'],
      ['2', 'refused', undefined],
    ])
  })
})
