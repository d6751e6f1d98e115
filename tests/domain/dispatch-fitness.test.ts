import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { fitnessOn, type MoultCourse } from '@/lib/domain/dispatch/fitness'
import { packingFor } from '@/lib/domain/dispatch/gate'
import { animal, TODAY, temperate, tropical } from '../cases/traveller'

describe('how a box is packed for the air it meets', () => {
  const handing = { isNextDay: true, isCollected: true }
  const way = (lowC: number, highC: number, gate = tropical) => packingFor(gate, { lowC, highC }, handing).way

  it('is plain from 12 to 28 °C for tropical and from 8 °C for temperate species', () => {
    expect([way(12, 28), way(11.9, 12), way(8, 28, temperate), way(7.9, 12, temperate)]).toEqual([
      'plain',
      'heat-pack',
      'plain',
      'heat-pack',
    ])
  })

  it('takes a heat pack down to 5 °C, and below only insulated, next-day and collected', () => {
    expect([way(5, 10), way(4.9, 10), way(2, 10), way(1.9, 10)]).toEqual([
      'heat-pack',
      'insulated',
      'insulated',
      'hold',
    ])
    const slow = packingFor(tropical, { lowC: 4, highC: 10 }, { isNextDay: false, isCollected: true })
    expect(slow).toEqual({ way: 'hold', reason: 'down to 4 °C: below 5 °C only if it arrives the next day' })
    const doorstep = packingFor(tropical, { lowC: 4, highC: 10 }, { isNextDay: true, isCollected: false })
    expect(doorstep).toEqual({
      way: 'hold',
      reason: 'down to 4 °C: below 5 °C only if it is collected at the depot',
    })
  })

  it('takes a cool pack from 28 to 31 °C and holds above', () => {
    expect([way(20, 28.1), way(20, 31), way(20, 31.1)]).toEqual(['cool-pack', 'cool-pack', 'hold'])
  })

  it('never takes a heat pack where the air gets warmer than 12 °C', () => {
    expect([way(10, 12), way(10, 12.1)]).toEqual(['heat-pack', 'hold'])
    expect(packingFor(tropical, { lowC: -4, highC: 3 }, handing).reason).toBe('down to −4 °C, less than 2 °C')
  })
})

describe('whether an animal is fit to travel', () => {
  const journey = (ahead: number, days = 1) => ({
    packOn: addDays(TODAY, ahead),
    arriveOn: addDays(TODAY, ahead + days),
  })
  const anyStage = { fromMoults: 0, untilMoults: null, takes: 'either' } as const
  const chanceOn = (of: MoultCourse, ahead: number) =>
    fitnessOn(of, { journey: journey(ahead), today: TODAY, stage: anyStage }).chance

  it('is sure in the middle of an instar and not while soft or near the moult', () => {
    expect(chanceOn(animal('A', 6), 0)).toBeGreaterThan(0.99)
    expect(chanceOn(animal('A', 1), 0)).toBe(0)
    expect(chanceOn(animal('A', 1), 1)).toBeGreaterThan(0.99)
    expect(chanceOn(animal('A', 24), 0)).toBeLessThan(0.9)
  })

  it('is least sure around the moult, and surer again once that lies behind', () => {
    const course = animal('A', 20)
    const chances = Array.from({ length: 40 }, (_, ahead) => chanceOn(course, ahead))
    const least = Math.min(...chances)
    expect(chances.indexOf(least)).toBeGreaterThan(1)
    expect(chances.indexOf(least)).toBeLessThan(25)
    expect(Math.max(...chances.slice(chances.indexOf(least)))).toBeGreaterThan(least + 0.1)
  })

  it('agrees with counting simulated moults', () => {
    // A moult after exactly 10 or 14 days, evenly, and the next one after 20 more.
    const at = (days: number[]) => (asked: number) =>
      days.filter((day) => day + 0.5 <= asked).length / days.length
    const none = () => 0
    const course: MoultCourse = {
      moults: 3,
      isAdult: false,
      softUntil: null,
      hardeningDays: { nymph: 2, adult: 6 },
      chances: (ahead) => ({
        nymph: ahead === 1 ? at([10, 14]) : ahead === 2 ? at([30, 34]) : none,
        adult: none,
      }),
    }
    for (let ahead = 0; ahead < 40; ahead += 1) {
      const safe = [10, 14].filter((first) =>
        // Neither moult from two days before packing up to two after the arrival on the day after it.
        [first, first + 20].every((moult) => moult <= ahead - 2 || moult > ahead + 3),
      )
      expect([ahead, chanceOn(course, ahead)]).toEqual([ahead, safe.length / 2])
    }
  })

  it('asks for the stage on the day, and says which way it misses', () => {
    const asked = (fromMoults: number, untilMoults: number, ahead: number) =>
      fitnessOn(animal('A', 20), {
        journey: journey(ahead),
        today: TODAY,
        stage: { fromMoults, untilMoults, takes: 'nymph' },
      })
    expect(asked(3, 3, 0).chance).toBeGreaterThan(0.6)
    expect(asked(4, 4, 0)).toMatchObject({ chance: 0, pastStage: 0 })
    expect(asked(4, 4, 0).tooYoung).toBeGreaterThan(0.98)
    expect(asked(3, 3, 35).pastStage).toBeGreaterThan(0.9)
    const adult = animal('B', 30, { isAdult: true, moults: 7 })
    const asNymph = fitnessOn(adult, {
      journey: journey(0),
      today: TODAY,
      stage: { fromMoults: 0, untilMoults: null, takes: 'nymph' },
    })
    expect(asNymph).toEqual({ chance: 0, tooYoung: 0, pastStage: 1 })
  })
})
