import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { learnDevelopment, withLearnedThreshold } from '@/lib/domain/development/learning'
import { logCovariance, logShift, priorParameters } from '@/lib/domain/development/parameters'
import { possibleStarts, startsWithin } from '@/lib/domain/development/possible-start'
import { listDoubtfulDates, parametersOf } from '@/lib/domain/development/posterior'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { temperatureSpreadC } from '@/lib/domain/development/temperature-spread'
import { seededStream } from '@/lib/domain/random/seeded'
import { profileOf, steady } from '../cases/profile'
import { mean } from '../support/recovery-judge'
import { answersAt, FULL_KNOWLEDGE, LEARNED, PROFILE_ONLY } from '../support/recovery-run'
import { dayOfMoult, historiesOn, playRoom, recordOn } from '../support/simulated-room'

const profile = profileOf('hierodula-spp')
const room = playRoom(
  { profile, speciesLog: Math.log(1.2), clutches: 8, zoneC: [25.5], recordedShare: 0.3 },
  'a room to learn from',
)
const records = recordsAfter(300)

function recordsAfter(moults: number, played = room): DevelopmentRecord[] {
  const today = dayOfMoult(played, moults)!
  const histories = historiesOn(played, today)
  return played.animals.flatMap((animal) => recordOn(animal, { today, histories }) ?? [])
}

function clutchOf(record: DevelopmentRecord): string {
  return record.clutchId ?? ''
}

describe('learning from records', () => {
  it('finds how much slower the workspace is, clutch by clutch', () => {
    const learned = learnDevelopment(profile, records)
    const clutches = [...new Set(records.filter(({ starts }) => starts.length > 2).map(clutchOf))]
    const errors = clutches.map((clutchId) => {
      const found = logShift(parametersOf(learned, { clutchId }), 1)
      return Math.abs(
        found - (room.truth.speciesLog + room.truth.clutchLog[clutchId]! + room.truth.byInstar[1]!),
      )
    })
    expect(clutches.length).toBeGreaterThan(3)
    expect(mean(errors)).toBeLessThan(0.06)
    expect(learned.noiseLogSd).toBeGreaterThan(0.11)
    expect(learned.noiseLogSd).toBeLessThan(0.15)
  })

  it('is the profile again where nothing is on record', () => {
    const learned = learnDevelopment(profile, [])
    const prior = priorParameters(profile)
    const parameters = parametersOf(learned, { clutchId: 'new' })
    expect(logShift(parameters, 3)).toBeCloseTo(0, 9)
    expect(logCovariance(parameters, 3, 3)).toBeCloseTo(logCovariance(prior, 3, 3), 9)
    expect(logCovariance(parameters, 3, 5)).toBeCloseTo(logCovariance(prior, 3, 5), 9)
  })

  it('says the same whatever the order of the rows and the time zone of the machine', () => {
    const zone = process.env.TZ
    const there = JSON.stringify(learnDevelopment(profile, records))
    const mixed = seededStream('order').shuffle(records)
    process.env.TZ = 'Pacific/Kiritimati'
    const elsewhere = JSON.stringify(learnDevelopment(profile, mixed))
    process.env.TZ = zone
    expect(elsewhere).toBe(there)
  })

  it('knows less of a new clutch than of one with moults of its own, and less still without records', () => {
    const learned = learnDevelopment(profile, records)
    const own = logCovariance(parametersOf(learned, { clutchId: clutchOf(records[0]!) }), 1, 1)
    const fresh = logCovariance(parametersOf(learned, { clutchId: 'new' }), 1, 1)
    expect(own).toBeLessThan(fresh)
    expect(fresh).toBeLessThan(logCovariance(priorParameters(profile), 1, 1))
  })

  it('counts animals that have not moulted yet: leaving them out makes everything look too quick at first', () => {
    const early = recordsAfter(25)
    const withThem = learnDevelopment(profile, early)
    const without = learnDevelopment(profile, early, { usesRunning: false })
    const clutchId = clutchOf(early.find(({ starts }) => starts.length > 1)!)
    expect(logShift(parametersOf(withThem, { clutchId }), 0)).toBeGreaterThan(
      logShift(parametersOf(without, { clutchId }), 0),
    )
  })

  it('points out a date keyed weeks off and is not led astray by it', () => {
    const victim = records.find(({ starts, isAdult }) => starts.length === 4 && !isAdult)!
    const starts = victim.starts.map((start) => {
      if (start.moults !== 2) return start
      const before = victim.starts[1]!
      return { moults: 2, earliestOn: nextDay(before.latestOn), latestOn: nextDay(before.latestOn) }
    })
    const spoilt = records.map((record) => (record === victim ? { ...record, starts } : record))
    const doubts = listDoubtfulDates(learnDevelopment(profile, spoilt))
    expect(doubts).toContainEqual({ animalId: victim.animalId, moults: 2, chance: expect.closeTo(1, 1) })
    const right = parametersOf(learnDevelopment(profile, records), { clutchId: victim.clutchId })
    const led = parametersOf(learnDevelopment(profile, spoilt), { clutchId: victim.clutchId })
    const naive = parametersOf(learnDevelopment(profile, spoilt, { wrongShare: 0 }), {
      clutchId: victim.clutchId,
    })
    const off = (found: typeof right) => Math.abs(logShift(found, 1) - logShift(right, 1))
    expect(off(led)).toBeLessThan(0.02)
    expect(off(naive)).toBeGreaterThan(2 * off(led))
  })

  it('keeps the threshold of the profile where all stand equally warm, and learns it where they do not', () => {
    expect(learnDevelopment(profile, records).threshold.isLearned).toBe(false)
    const apart = playRoom(
      {
        profile,
        speciesLog: 0,
        clutches: 8,
        zoneC: [22, 28],
        recordedShare: 0.3,
        lateShare: 0,
        wrongShare: 0,
      },
      'two zones',
    )
    const learned = learnDevelopment(profile, recordsAfter(400, apart))
    expect(learned.threshold.isLearned).toBe(true)
    expect(Math.abs(learned.threshold.lowerC - apart.truth.lowerC)).toBeLessThan(1.6)
    expect(learned.threshold.sdC).toBeLessThan(1.5)
    expect(withLearnedThreshold(profile, learned).growth.lowerThresholdC.source.kind).toBe('own')
  })

  it('brings dates closer than the profile alone and nearly as close as full knowledge', () => {
    const quick = playRoom({ ...room.plan, speciesLog: Math.log(0.83) }, 'a quick room')
    const asked = { count: 300, questions: 50, seed: 'small recovery' }
    const variants = [LEARNED, FULL_KNOWLEDGE, PROFILE_ONLY]
    const rooms = [room, quick].map((played) => answersAt(played, asked, variants)!)
    const answersOf = (name: string) => rooms.flatMap((answers) => answers.get(name)!)
    const error = (name: string) => mean(answersOf(name).map(({ errorDays }) => errorDays))
    expect(error('learned')).toBeLessThan(0.85 * error('profile alone'))
    expect(error('learned')).toBeLessThan(1.25 * error('full knowledge'))
    const inside = mean(answersOf('learned').map(({ pit }) => (pit > 0.1 && pit < 0.9 ? 1 : 0)))
    expect(inside).toBeGreaterThan(0.65)
    expect(inside).toBeLessThan(0.95)
  })
})

describe('what is unknown of a start', () => {
  it('is spread over the days in which the moult was noticed', () => {
    expect(startsWithin('2026-11-03', '2026-11-03')).toEqual([{ on: '2026-11-03', weight: 1 }])
    expect(startsWithin('2026-11-03', '2026-11-06').map(({ on }) => on)).toEqual([
      '2026-11-03',
      '2026-11-04',
      '2026-11-05',
      '2026-11-06',
    ])
    const learned = learnDevelopment(profile, records)
    for (const record of records.slice(0, 50)) {
      const weights = possibleStarts(record, { profile, learned }).map(({ weight }) => weight)
      expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 9)
    }
  })
})

describe('how far a zone strays', () => {
  it('is the default without a past, and its own with one', () => {
    expect(temperatureSpreadC(steady(26), '2026-11-01')).toBe(1.5)
    const days = historiesOn(room, '2026-09-01')[0]!
    const calm = days.map((day) => ({ ...day, dayC: 26, nightC: 23 }))
    const wild = days.map((day, index) => {
      const dayC = 26 + (index % 60 < 30 ? 4 : -4)
      return { ...day, dayC, nightC: dayC - 3 }
    })
    expect(temperatureSpreadC(calm, '2026-09-01')).toBeLessThan(1)
    expect(temperatureSpreadC(wild, '2026-09-01')).toBeGreaterThan(2.5)
  })
})

function nextDay(date: string): string {
  return addDays(date, 1)
}
