import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { changedPersonalFields, planErasure, retentionUntil } from '@/lib/domain/buyer/retention'
import { dateOfDay } from '@/lib/domain/calendar/date'

describe('the duty to keep a receipt that names somebody', () => {
  test.each([
    ['2026-11-28', 10, '2036-11-28'],
    ['2024-02-29', 3, '2027-02-28'],
    ['2024-02-29', 4, '2028-02-29'],
    ['2026-11-28', 0, null],
    [null, 10, null],
  ])('after a last receipt of %s, kept for %i years, ends on %s', (last, years, until) => {
    expect(retentionUntil(last, years)).toBe(until)
  })

  test('never ends before the receipt, and later for more years', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 40_000 }), fc.integer({ min: 1, max: 29 }), (day, years) => {
        const on = dateOfDay(day)
        const until = retentionUntil(on, years) ?? ''
        expect(until > on).toBe(true)
        expect((retentionUntil(on, years + 1) ?? '') > until).toBe(true)
      }),
    )
  })

  test('puts an erasure off until its day, and not a day longer', () => {
    const asked = { lastSaleOn: '2026-11-28', retentionYears: 1 }
    expect(planErasure(asked, '2027-11-27')).toEqual({ status: 'waits', until: '2027-11-28' })
    expect(planErasure(asked, '2027-11-28')).toEqual({ status: 'now' })
    expect(planErasure({ ...asked, lastSaleOn: null }, '2026-11-28')).toEqual({ status: 'now' })
  })
})

test('of a change to a person only the names of the fields are said', () => {
  const before = { name: 'Ada', email: 'a@x.test', phone: '', address: '', note: '' }
  expect(changedPersonalFields(before, { ...before, email: '', phone: '12' })).toEqual(['email', 'phone'])
  expect(changedPersonalFields(before, { ...before })).toEqual([])
})
