import { describe, expect, it } from 'vitest'
import { describeLine } from '@/lib/domain/order/description'
import { claimTime, type OrderFacts, orderState, sayOrderState } from '@/lib/domain/order/state'

const TODAY = '2026-11-30'

describe('a line of an order in words', () => {
  const line = {
    scientificName: 'Hymenopus coronatus',
    sex: 'female',
    takes: 'nymph',
    fromMoults: 3,
  } as const
  const ordinal = { convention: 'hatchling-is-first', style: 'ordinal' } as const
  const numbered = { convention: 'hatchling-is-second', style: 'l-number' } as const

  it('names species, stage in the workspace’s own way, and sex', () => {
    const say = (changes: object, naming: typeof ordinal | typeof numbered = ordinal) =>
      describeLine({ ...line, untilMoults: 3, ...changes }, naming).replace('Hymenopus coronatus, ', '')
    expect(say({})).toBe('4th instar, female')
    expect(say({}, numbered)).toBe('L5, female')
    expect(say({ untilMoults: 5, sex: 'any' })).toBe('4th to 6th instar, either sex')
    expect(say({ untilMoults: null })).toBe('nymph from the 4th instar on, female')
    expect(say({ takes: 'adult' })).toBe('adult, female')
    expect(say({ takes: 'either', fromMoults: 0, untilMoults: null })).toBe('any stage, female')
  })
})

describe('where an order is', () => {
  const open: OrderFacts = {
    ...{
      way: 'sent',
      leftOn: null,
      arrivedOn: null,
      cancelledOn: null,
      paidOn: null,
      lost: 0,
      claimEnd: null,
    },
  }

  it('follows from its days', () => {
    const state = (changes: Partial<OrderFacts>) => orderState({ ...open, ...changes })
    const left = { leftOn: '2026-11-24' }
    expect(state({})).toBe('open')
    expect(state(left)).toBe('on-its-way')
    expect(state({ ...left, way: 'collected' })).toBe('done')
    expect(state({ ...left, arrivedOn: '2026-11-25' })).toBe('done')
    expect(state({ ...left, arrivedOn: '2026-11-25', lost: 1 })).toBe('to-settle')
    expect(state({ ...left, arrivedOn: '2026-11-25', lost: 1, claimEnd: 'refund' })).toBe('done')
    expect(state({ cancelledOn: '2026-11-25' })).toBe('cancelled')
    expect(sayOrderState({ ...open, paidOn: '2026-11-20' }, TODAY)).toBe('paid, still here')
    expect(sayOrderState({ ...open, ...left }, TODAY)).toBe('on its way since 24 Nov')
  })

  it('says whether a loss was told in time', () => {
    const hour = 3_600_000
    expect(claimTime({ arrivedMs: 0, reportedMs: 24 * hour }, 24)).toEqual({
      isInTime: true,
      words: 'Reported 24 hours after the arrival; 24 hours were agreed.',
    })
    expect(claimTime({ arrivedMs: 0, reportedMs: 24 * hour + 1 }, 24)).toEqual({
      isInTime: false,
      words: 'Reported 25 hours after the arrival, later than the 24 hours that were agreed.',
    })
  })
})
