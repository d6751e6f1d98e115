import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  applyEntry,
  emptyHeadCount,
  HEAD_COUNT_STATES,
  type HeadCount,
  type HeadCountEntry,
  headCountShares,
  isMoveAllowed,
  isSumRight,
  livingHere,
  recountEntry,
} from '@/lib/domain/head-count/head-count'
import { HEAD_COUNT_STORIES } from '../cases/head-count-stories'

const anyState = fc.constantFrom('uncounted' as const, ...HEAD_COUNT_STATES)
const anyEntry = fc.record({
  from: anyState,
  to: anyState,
  count: fc.integer({ min: -1, max: 40 }),
  isReversal: fc.boolean(),
})

function play(entries: readonly HeadCountEntry[], start = emptyHeadCount()): HeadCount {
  return entries.reduce((count, entry) => {
    const outcome = applyEntry(count, entry)
    return outcome.status === 'ok' ? outcome.count : count
  }, start)
}

describe('the head count', () => {
  for (const story of HEAD_COUNT_STORIES) {
    it(`${story.name}`, () => {
      const end = story.entries.reduce((count, entry) => {
        const outcome = applyEntry(count, entry)
        if (outcome.status !== 'ok')
          throw new Error(`${entry.from} → ${entry.to} was refused: ${outcome.code}`)
        expect(isSumRight(outcome.count)).toBe(true)
        return outcome.count
      }, emptyHeadCount())
      expect(end).toMatchObject(story.ends)
    })
  }

  it('sums whatever is entered in whatever order, and never goes below zero', () => {
    fc.assert(fc.property(fc.array(anyEntry, { maxLength: 60 }), (entries) => isSumRight(play(entries))))
  })

  it('never corrects a hatch to fewer than none, whatever was found again', () => {
    const foundAgain = play([{ from: 'unaccounted', to: 'single', count: 1 }])
    const outcome = applyEntry(foundAgain, { from: 'single', to: 'uncounted', count: 1, isReversal: true })
    expect(outcome).toMatchObject({ status: 'refused', code: 'more-than-left' })
  })

  it('is as before when an entry is reversed', () => {
    fc.assert(
      fc.property(fc.array(anyEntry, { maxLength: 30 }), anyEntry, (entries, entry) => {
        const before = play(entries)
        const outcome = applyEntry(before, { ...entry, isReversal: false })
        fc.pre(outcome.status === 'ok')
        const back = applyEntry(outcome.status === 'ok' ? outcome.count : before, {
          from: entry.to,
          to: entry.from,
          count: entry.count,
          isReversal: true,
        })
        expect(back).toEqual({ status: 'ok', count: before })
      }),
    )
  })

  it('refuses more than are left and says how many there are', () => {
    const count = play([{ from: 'uncounted', to: 'together', count: 4 }])
    expect(applyEntry(count, { from: 'together', to: 'single', count: 5 })).toEqual({
      status: 'refused',
      code: 'more-than-left',
      left: 4,
    })
  })

  it('refuses what means nothing: the dead do not walk, nobody is half an animal', () => {
    const count = play([
      { from: 'uncounted', to: 'together', count: 4 },
      { from: 'together', to: 'dead', count: 1 },
    ])
    expect(applyEntry(count, { from: 'dead', to: 'single', count: 1 })).toMatchObject({
      code: 'no-such-move',
    })
    expect(applyEntry(count, { from: 'together', to: 'together', count: 1 })).toMatchObject({
      code: 'same-place',
    })
    expect(applyEntry(count, { from: 'together', to: 'single', count: 0.5 })).toMatchObject({
      code: 'not-a-whole-number',
    })
    expect(applyEntry(count, { from: 'together', to: 'single', count: 0 })).toMatchObject({
      code: 'not-a-whole-number',
    })
    expect(isMoveAllowed({ from: 'sold', to: 'dead' })).toBe(false)
  })

  it('does not change the count it was given', () => {
    const count = play([{ from: 'uncounted', to: 'together', count: 4 }])
    const copy = { ...count }
    applyEntry(count, { from: 'together', to: 'single', count: 2 })
    expect(count).toEqual(copy)
  })

  it('finds a wrong sum and a place below zero', () => {
    expect(isSumRight({ ...emptyHeadCount(), hatched: 3, together: 2 })).toBe(false)
    expect(isSumRight({ ...emptyHeadCount(), hatched: 0, together: 1, dead: -1 })).toBe(false)
  })

  it('fills the bar, in the order of the places', () => {
    const count = play([
      { from: 'uncounted', to: 'together', count: 8 },
      { from: 'together', to: 'single', count: 6 },
      { from: 'single', to: 'sold', count: 2 },
    ])
    const shares = headCountShares(count)
    expect(shares.map(({ state }) => state)).toEqual([...HEAD_COUNT_STATES])
    expect(shares.map(({ share }) => share)).toEqual([0.25, 0.5, 0.25, 0, 0, 0, 0])
    expect(headCountShares(emptyHeadCount()).every(({ share }) => share === 0)).toBe(true)
    expect(livingHere(count)).toBe(6)
  })

  it('turns a recount of a settled clutch into unaccounted, and of an "about" into a correction', () => {
    const count = play([{ from: 'uncounted', to: 'together', count: 20 }])
    expect(recountEntry(count, { together: 17, isSettled: true })).toEqual({
      from: 'together',
      to: 'unaccounted',
      count: 3,
    })
    expect(recountEntry(count, { together: 17, isSettled: false })).toEqual({
      from: 'together',
      to: 'uncounted',
      count: 3,
    })
    expect(recountEntry(count, { together: 22, isSettled: false })).toEqual({
      from: 'uncounted',
      to: 'together',
      count: 2,
    })
    expect(recountEntry(count, { together: 20, isSettled: true })).toBeNull()
  })
})
