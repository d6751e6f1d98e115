import { describe, expect, it } from 'vitest'
import type { TravellingAnimal } from '@/lib/domain/dispatch/animal'
import { checkDay } from '@/lib/domain/dispatch/day'
import { firstDispatchDays } from '@/lib/domain/dispatch/days'
import { airOf, type ClosedDay } from '@/lib/domain/dispatch/journey'
import { waysOut } from '@/lib/domain/dispatch/way-out'
import { sayFirstDay, sayHeldUp, sayWayOut } from '@/lib/domain/dispatch/wording'
import { animal, line, mild, question, TODAY } from '../cases/traveller'

describe('the first days on which an order can go', () => {
  it('are the next Mondays to Wednesdays in the middle of an instar', () => {
    const answer = firstDispatchDays(question())
    expect(answer.days.map(({ packOn }) => packOn)).toEqual(['2026-11-30', '2026-12-01', '2026-12-02'])
    expect(answer.heldUp).toEqual([])
    expect(sayFirstDay(answer, TODAY)).toBe('Everything can go today, to arrive on Tue 1 Dec.')
  })

  it('leave out weekdays on which nothing is sent, without a word', () => {
    const rules = { weekdays: [1, 2], transitDays: 1, closedDays: [] }
    const answer = firstDispatchDays(question({ rules, animals: [animal('A', 2)] }))
    expect(answer.days.map(({ packOn }) => packOn)).toEqual(['2026-11-30', '2026-12-01', '2026-12-07'])
    expect(answer.heldUp).toEqual([])
  })

  it('are neither closed nor before closed days, here or at the buyer’s end', () => {
    const closed = (on: string, end: 'here' | 'there'): ClosedDay => ({ on, end, note: '' })
    const days = (...closedDays: ClosedDay[]) =>
      firstDispatchDays(
        question({ animals: [animal('A', 2)], rules: { weekdays: [1, 2, 3], transitDays: 1, closedDays } }),
      ).days.map(({ packOn }) => packOn)
    expect(days(closed('2026-12-02', 'here'))[0]).toBe('2026-12-07')
    expect(days(closed('2026-12-03', 'there')).slice(0, 2)).toEqual(['2026-11-30', '2026-12-07'])
    expect(days(closed('2026-12-04', 'there'))).toEqual(['2026-11-30', '2026-12-01', '2026-12-07'])
  })

  it('name the animal that is in the way, and why', () => {
    const lines = [line(1, { count: 2, chosen: ['A', 'B'] })]
    const animals = [animal('A', 3), animal('B', 1)]
    const answer = firstDispatchDays(question({ lines, animals }))
    expect(answer.days[0]!.packOn).toBe('2026-12-01')
    expect(answer.heldUp.map((one) => sayHeldUp(one, { animal: String }, TODAY))).toEqual([
      'B, 30 Nov: it is soft after its moult until 1 Dec.',
    ])
  })

  it('wait for quarantine, for a zone that was too hot, and for a meal', () => {
    const first = (changes: Partial<TravellingAnimal>) => {
      const answer = firstDispatchDays(question({ animals: [animal('A', 2, changes)] }))
      const why = answer.heldUp.flatMap(({ hold }) => (hold.by === 'animal' ? [hold.code] : []))
      return [answer.days[0]?.packOn, ...new Set(why)]
    }
    expect(first({ quarantineUntil: '2026-12-02' })).toEqual(['2026-12-02', 'quarantine'])
    const heat = { kind: 'too_hot' as const, beganOn: '2026-11-29', clearOn: '2026-12-01' }
    expect(first({ incidents: [heat] })).toEqual(['2026-12-02', 'zone-incident'])
    expect(first({ incidents: [{ ...heat, clearOn: null }] })).toEqual([undefined, 'zone-incident'])
    expect(first({ lastFedOn: '2026-11-20', lastRefusedOn: '2026-11-25' })).toEqual([
      '2026-12-07',
      'refusing',
    ])
    expect(first({ lastFedOn: '2026-11-20' })).toEqual(['2026-12-01', 'unfed'])
    expect(first({ gone: 'It was sold.' })).toEqual([undefined, 'gone'])
  })

  it('never come for an animal that is too young, or whose moults nobody can foresee', () => {
    const young = firstDispatchDays(question({ animals: [animal('A', 3, { moults: 1 })], horizonDays: 8 }))
    expect(young.days).toEqual([])
    expect(young.heldUp[0]!.hold).toMatchObject({ by: 'animal', code: 'too-young' })
    const unknown = firstDispatchDays(question({ animals: [animal('A', 6, { chances: null })] }))
    expect(unknown.heldUp[0]!.hold).toMatchObject({ code: 'unforeseen' })
    const adult = animal('A', 30, { isAdult: true, moults: 7, chances: null })
    expect(firstDispatchDays(question({ animals: [adult] })).days).toHaveLength(3)
  })

  it('say how to pack, or that the air is not known yet', () => {
    const known = firstDispatchDays(question({ air: mild(3) }))
    expect(known.days.map(({ packing, missingAir }) => [packing?.way, missingAir])).toEqual([
      ['plain', null],
      ['plain', null],
      ['plain', 'The air there on 3 Dec is not known yet.'],
    ])
    const cold = mild(9).map((day) => ({ ...day, lowC: -2, highC: 4 }))
    const answer = firstDispatchDays(question({ air: cold, animals: [animal('A', 2)] }))
    expect(answer.days[0]!.packOn).toBe('2026-12-09')
    expect(sayHeldUp(answer.heldUp[0]!, { animal: String }, TODAY)).toBe(
      'A, 30 Nov to 8 Dec: the air is not for Hymenopus coronatus: down to −2 °C, less than 2 °C.',
    )
  })

  it('counts the air at both ends on every day of the journey', () => {
    const air = [
      { end: 'here' as const, on: TODAY, lowC: 10, highC: 15 },
      { end: 'there' as const, on: TODAY, lowC: 3, highC: 9 },
      { end: 'there' as const, on: '2026-12-01', lowC: 5, highC: 17 },
    ]
    expect(airOf({ packOn: TODAY, arriveOn: '2026-12-01' }, air)).toEqual({
      isKnown: true,
      range: { lowC: 3, highC: 17 },
      missing: null,
    })
  })
})

describe('an order of descriptions', () => {
  it('goes with the safest that fit, and takes nobody twice', () => {
    const lines = [
      line(1, { count: 2 }),
      line(2, { stage: { fromMoults: 2, untilMoults: null, takes: 'either' } }),
    ]
    const animals = [animal('A', 6), animal('B', 9), animal('C', 21), animal('D', 6, { moults: 5 })]
    const day = checkDay(TODAY, question({ lines, animals }))
    expect(day.holds).toEqual([])
    expect(day.going.map((one) => [one.line, one.animal]).sort()).toEqual([
      [1, 'A'],
      [1, 'B'],
      [2, 'D'],
    ])
  })

  it('says for which line too few are fit, and who comes nearest', () => {
    const day = checkDay(
      TODAY,
      question({ lines: [line(1, { count: 2 })], animals: [animal('A', 6), animal('B', 1)] }),
    )
    expect(day.holds).toEqual([
      {
        by: 'line',
        line: 1,
        message:
          '1 of 2 are fit for “Hymenopus coronatus, 4th instar”. Nearest is B: it is soft after its moult until 1 Dec.',
      },
    ])
    const none = checkDay(TODAY, question({ lines: [line(1, { sex: 'male' })], animals: [animal('A', 6)] }))
    expect(none.holds[0]).toMatchObject({ message: 'None is here for “Hymenopus coronatus, 4th instar”.' })
  })

  it('speaks of the air, and of no animal, where the air alone is in the way', () => {
    const air = mild(2).map((day) => ({ ...day, highC: 33 }))
    const day = checkDay(
      TODAY,
      question({ lines: [line(1)], animals: [animal('A', 6), animal('B', 7)], air }),
    )
    expect(day.holds).toEqual([
      {
        by: 'line',
        line: 1,
        message: 'The air is not for Hymenopus coronatus: up to 33 °C, more than 31 °C.',
      },
    ])
  })

  it('offers an equal, a split or a wait where one is in the way', () => {
    const lines = [line(1, { count: 2, chosen: ['A', 'B'] })]
    const asked = question({ lines, animals: [animal('A', 3), animal('B', 1), animal('C', 3)] })
    const ways = waysOut(TODAY, asked)
    expect(ways.map(({ kind }) => kind)).toEqual(['swap', 'split', 'wait'])
    const said = ways.map((way) => sayWayOut(way, { animal: String }, TODAY))
    expect(said[0]).toBe('Take C instead of B (fit to travel with 100 %).')
    expect(said[1]).toBe('Send 1 animal now and B on Tue 1 Dec.')
    expect(said[2]).toBe('Wait until Tue 1 Dec: then everything goes at once.')
    const alone = waysOut(TODAY, question({ animals: [animal('A', 1)] }))
    expect(alone.map(({ kind }) => kind)).toEqual(['wait'])
  })
})
