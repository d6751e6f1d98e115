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
import type { BenchWho } from '@/lib/features/bench/schema'

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

  test('counts what has arrived once, when the service says how things stand, and what others did beside', () => {
    const taps: BenchTap[] = [
      { ...cup('a', 101), isIncluded: true },
      { ...cup('b', 102), isIncluded: true },
      cup('c', 103),
      { id: 'u', kind: 'undo', undoes: 'b' },
    ]
    // Two cups arrived, and somebody else took five.
    const now = { ...opening, together: 13, housed: 2, nextNumber: 103 }
    expect(benchStanding(now, taps)).toMatchObject({ together: 13, housed: 2, last: { id: 'c' } })
    const undone = taps.map((tap) => ({ ...tap, isIncluded: true }))
    expect(benchStanding({ ...now, together: 13, housed: 2 }, undone)).toMatchObject({
      together: 13,
      housed: 2,
    })
  })

  test('begins with those whom another device has seen hanging, until it is said otherwise here', () => {
    const seen = { ...opening, hanging: 7 }
    const said: BenchTap = { id: 'h', kind: 'hanging', count: 9 }
    expect(benchStanding(seen, [cup('a', 101)]).hanging).toBe(7)
    expect(benchStanding(seen, [said, cup('a', 101)]).hanging).toBe(9)
    expect(benchStanding(seen, [{ ...said, isDropped: true }]).hanging).toBe(7)
    // It had arrived, and another device said seven after it.
    expect(benchStanding(seen, [{ ...said, isIncluded: true }]).hanging).toBe(7)
    expect(
      benchStanding(seen, [
        { ...said, isIncluded: true },
        { ...said, id: 'i', count: 0 },
      ]).hanging,
    ).toBe(0)
    expect(benchStanding(opening, []).hanging).toBe(0)
  })

  test('stands the same whichever taps the service has counted already', () => {
    const kind = fc.constantFrom<'cup' | 'dead' | 'escaped' | 'undo' | 'raise'>(
      'cup',
      'dead',
      'escaped',
      'undo',
      'raise',
    )
    fc.assert(
      fc.property(fc.array(kind, { maxLength: 15 }), fc.nat(15), (kinds, arrived) => {
        const plenty = { ...opening, together: 100 }
        const taps: BenchTap[] = []
        for (const [index, each] of kinds.entries()) {
          const { last } = benchStanding(plenty, taps)
          if (each === 'undo' && !last) continue
          const undoes = each === 'undo' ? { undoes: String(last?.id) } : {}
          taps.push({ id: String(index), kind: each, ...undoes, ...(each === 'raise' ? { count: 3 } : {}) })
        }
        const direct = benchStanding(plenty, taps)
        const half = benchStanding(plenty, taps.slice(0, arrived))
        const { together, housed, dead, escaped } = half
        const said = { ...plenty, together, housed, dead, escaped }
        const marked = taps.map((tap, index) => ({ ...tap, isIncluded: index < arrived }))
        const again = benchStanding(said, marked)
        const counts = (standing: typeof direct) => [
          standing.together,
          standing.housed,
          standing.dead,
          standing.escaped,
          standing.last?.id,
        ]
        expect(counts(again)).toEqual(counts(direct))
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

const who: BenchWho = {
  person: { id: 'mara', name: 'Mara', email: 'mara@larch-lane.example' },
  workspaces: [{ id: 'w', slug: 'larch-lane', name: 'Larch Lane', mayCount: true }],
}

describe('what a device sends', () => {
  test('goes in order, at most fifty at a time', () => {
    const entries = Array.from({ length: 60 }, (_, index) => entry(String(60 - index)))
    const ids = listSendable(entries, who).map(({ operation }) => operation.id)
    expect(ids).toEqual(Array.from({ length: 50 }, (_, index) => String(index + 1)))
  })

  test('leaves out another person’s taps, those left out, and a run that waits for a word', () => {
    const dropped = entry('2', { tap: { id: '2', kind: 'cup', isDropped: true } })
    const refused = entry('3', { run: 'other', state: 'refused' })
    const behind = entry('4', { run: 'other' })
    const entries = [entry('1'), dropped, refused, behind]
    expect(listSendable(entries, who).map(({ operation }) => operation.id)).toEqual(['1'])
    expect(listSendable(entries, null)).toEqual([])
    expect(listSendable(entries, { ...who, workspaces: [] })).toEqual([])
    expect(listSendable(entries, { ...who, person: { ...who.person, id: 'jonas' } })).toEqual([])
  })

  test('is settled by its own answer alone: what was held back or not judged keeps waiting', () => {
    const sent = [entry('1'), entry('2'), entry('3'), entry('4')]
    const settled = settleEntries(sent, [
      { id: '1', status: 'applied', label: 'K7Q97' },
      { id: '2', status: 'refused', code: 'more-than-left', message: 'Nobody is left.' },
      { id: '3', status: 'refused', code: 'held-back', message: 'An earlier one was refused.' },
      { id: '4', status: 'refused', code: 'forbidden', present: { reason: 'other-person' } },
    ])
    expect(settled.map(({ operation, state, label }) => [operation.id, state, label])).toEqual([
      ['1', 'sent', 'K7Q97'],
      ['2', 'refused', undefined],
    ])
  })
})
