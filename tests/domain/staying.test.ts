import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { listStaying } from '@/lib/domain/separation/staying'

const run = { together: 20, hanging: 12, hangingUntil: 'Thursday 3 December', deadline: 'due on 4 Dec' }

describe('what stays together at the end of a run', () => {
  test('is said with its reason: those that hang first, the others with their deadline', () => {
    expect(listStaying(run)).toEqual([
      { count: 12, reason: 'hanging for a moult: leave alone until Thursday 3 December' },
      { count: 8, reason: 'due on 4 Dec' },
    ])
    expect(listStaying({ ...run, hanging: 0 })).toEqual([{ count: 20, reason: 'due on 4 Dec' }])
    expect(listStaying({ ...run, together: 0 })).toEqual([])
  })

  test('is never more or fewer than are there', () => {
    fc.assert(
      fc.property(fc.nat(200), fc.integer({ min: -5, max: 300 }), (together, hanging) => {
        const sum = listStaying({ ...run, together, hanging }).reduce((total, { count }) => total + count, 0)
        expect(sum).toBe(together)
      }),
    )
  })
})
