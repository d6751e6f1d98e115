import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { dateAfterEffectiveDays, developmentClock, thresholdsOf } from '@/lib/domain/development/clock'
import { medianInstarDays } from '@/lib/domain/development/instar-length'
import { learnDevelopment, withLearnedThreshold } from '@/lib/domain/development/learning'
import { logCovariance, logShift, priorParameters } from '@/lib/domain/development/parameters'
import { possibleStarts, startsWithin } from '@/lib/domain/development/possible-start'
import { listDoubtfulDates, parametersOf } from '@/lib/domain/development/posterior'
import type { DevelopmentRecord } from '@/lib/domain/development/record'
import { temperatureSpreadC } from '@/lib/domain/development/temperature-spread'
import { normalQuantile } from '@/lib/domain/probability/normal'
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

/** The only one of its clutch: three instars by the profile, each so many times as long. */
function lone(history: DevelopmentRecord['history'], index: number, times: number): DevelopmentRecord {
  const clock = developmentClock(history, thresholdsOf(profile))
  const course = { sex: 'female' as const, totalMoults: 8 }
  const hatchedOn = '2026-05-01'
  let passed = 0
  const starts = [{ moults: 0, earliestOn: hatchedOn, latestOn: hatchedOn }]
  for (let moults = 1; moults <= 3; moults += 1) {
    passed += times * medianInstarDays(profile, course, moults - 1)
    const on = dateAfterEffectiveDays(clock, hatchedOn, passed)!
    starts.push({ moults, earliestOn: on, latestOn: on })
  }
  const clutchId = `lone ${index}`
  return {
    animalId: clutchId,
    clutchId,
    sex: 'female',
    starts,
    runningOn: starts.at(-1)!.latestOn,
    isAdult: false,
    history,
  }
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

  it('believes a date that a person has confirmed, however odd, and is led by it like by any other', () => {
    const victim = records.find(({ starts, isAdult }) => starts.length === 4 && !isAdult)!
    const withSecond = (isConfirmed: boolean) =>
      records.map((record) => {
        if (record !== victim) return record
        const on = nextDay(victim.starts[1]!.latestOn)
        const starts = victim.starts.map((start) =>
          start.moults === 2 ? { moults: 2, earliestOn: on, latestOn: on, isConfirmed } : start,
        )
        return { ...record, starts }
      })
    const chanceOf = (rows: DevelopmentRecord[]) =>
      learnDevelopment(profile, rows).animals[victim.animalId]!.wrongDates.find(({ moults }) => moults === 2)
        ?.chance ?? 0
    expect(chanceOf(withSecond(false))).toBeGreaterThan(0.9)
    expect(chanceOf(withSecond(true))).toBe(0)
    const shiftOf = (rows: DevelopmentRecord[], changes = {}) =>
      logShift(parametersOf(learnDevelopment(profile, rows, changes), { clutchId: victim.clutchId }), 1)
    const [doubted, sure] = [shiftOf(withSecond(false)), shiftOf(withSecond(true))]
    const naive = shiftOf(withSecond(false), { wrongShare: 0 })
    // The instar before it counts in full; the one after may still end on a wrong date.
    expect(Math.abs(sure - naive)).toBeLessThan(Math.abs(doubted - naive) - 0.01)
  })

  it('stays whole numbers where a confirmed date cannot be at all', () => {
    const victim = records.find(({ starts, isAdult }) => starts.length === 4 && !isAdult)!
    const starts = victim.starts.map((start) =>
      start.moults === 2
        ? { moults: 2, earliestOn: '2040-01-01', latestOn: '2040-01-01', isConfirmed: true }
        : start,
    )
    const learned = learnDevelopment(
      profile,
      records.map((record) => (record === victim ? { ...record, starts } : record)),
    )
    expect(learned.shared.every(Number.isFinite)).toBe(true)
  })

  it('takes a clutch that is merely slow for slow, not for a row of wrong dates', () => {
    const sluggish = records
      .filter((record) => clutchOf(record) === clutchOf(records[0]!))
      .slice(0, 12)
      .map((record, index) => lone(record.history, index, 1.4))
    const learned = learnDevelopment(profile, sluggish)
    expect(listDoubtfulDates(learned)).toEqual([])
    expect(logShift(parametersOf(learned, { clutchId: 'lone 0' }), 2)).toBeGreaterThan(Math.log(1.25))
  })

  it('learns how alike clutches are, from few by little and from many by much', () => {
    const spread = (clutches: number, logSd: number) => {
      const rows = Array.from({ length: clutches }, (_, index) => {
        const z = normalQuantile((index + 0.5) / clutches)
        return Array.from({ length: 6 }, (_, one) => ({
          ...lone(records[0]!.history, index, Math.exp(logSd * z)),
          animalId: `${index} ${one}`,
        }))
      }).flat()
      return learnDevelopment(profile, rows).clutchLogSd
    }
    const prior = learnDevelopment(profile, []).clutchLogSd
    expect(prior).toBeCloseTo(0.12, 9)
    expect(spread(30, 0.02)).toBeLessThan(0.09)
    expect(spread(30, 0.25)).toBeGreaterThan(0.18)
    expect(Math.abs(spread(3, 0.02) - prior)).toBeLessThan(prior - spread(30, 0.02))
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

describe('a start that is not certain', () => {
  const history = steady(26)
  const learned = learnDevelopment(profile, records)
  const length = medianInstarDays(profile, { sex: 'female', totalMoults: 8 }, 2)
  const usual = length * Math.exp(logShift(parametersOf(learned, { clutchId: 'new' }), 2))
  const record = (earliest: number, latest: number): DevelopmentRecord => ({
    animalId: 'noticed late',
    clutchId: 'new',
    sex: 'female',
    starts: [
      { moults: 2, earliestOn: '2026-05-01', latestOn: '2026-05-01' },
      { moults: 3, earliestOn: addDays('2026-05-01', earliest), latestOn: addDays('2026-05-01', latest) },
    ],
    runningOn: addDays('2026-05-01', latest + 2),
    isAdult: false,
    history,
  })

  it('is likeliest on the day that makes the instar before as long as usual', () => {
    const early = Math.round(usual)
    const late = possibleStarts(record(early, early + 8), { profile, learned })
    expect(late[0]!.weight).toBeGreaterThan(1.5 * late.at(-1)!.weight)
    const soon = possibleStarts(record(early - 8, early), { profile, learned })
    expect(soon.at(-1)!.weight).toBeGreaterThan(1.5 * soon[0]!.weight)
  })

  it('is doubted by what came before it: the wait since then is weighed by the forecast, and only once', () => {
    const soon = Math.round(0.68 * usual)
    const odd = { ...record(soon, soon), runningOn: addDays('2026-05-01', Math.round(2.1 * usual)) }
    const withOdd = learnDevelopment(profile, [...records, odd])
    const doubt = withOdd.animals[odd.animalId]!.wrongDates.find(({ moults }) => moults === 3)!
    expect(doubt.chance).toBeGreaterThan(doubt.chanceAtFirst + 0.01)
    const starts = possibleStarts(odd, { profile, learned: withOdd })
    const elsewhere = starts.slice(1).reduce((sum, { weight }) => sum + weight, 0)
    expect(elsewhere).toBeCloseTo(doubt.chanceAtFirst, 6)
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
