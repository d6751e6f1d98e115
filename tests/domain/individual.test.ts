import { describe, expect, test } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { injuriesOf } from '@/lib/domain/individual/injury'
import { instarStart } from '@/lib/domain/individual/instar-start'
import { listMoultMistakes } from '@/lib/domain/individual/moult-check'
import { type LivedRecord, outlookOf } from '@/lib/domain/individual/outlook'
import { type GrowthRecord, lastMoultOn, moultsOf, recordAsOf } from '@/lib/domain/individual/record'
import { stateWords } from '@/lib/domain/individual/state-words'
import { whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { minorAmount, minorDigits, writeMoney } from '@/lib/domain/money/money'
import { leaveOfAnimal } from '@/lib/domain/sale/leave-of-animal'

const TODAY = '2026-11-20'
const day = (offset: number) => addDays(TODAY, offset)
const found = DEFAULT_PROFILES.find(({ slug }) => slug === 'creobroter-spp')
if (!found) throw new Error('the profile is there')
const { profile } = found
const naming = { convention: 'hatchling-is-first', style: 'ordinal' } as const
const room = (dayC: number) => ({ setPoints: [{ from: '2026-01-01', dayC, nightC: null }] })
const zones = new Map([
  ['warm', room(26)],
  ['cool', room(20)],
  ['hot', room(30)],
])
const known = { profile, naming, zones, today: TODAY, learned: null }

const moult = (number: number, on: string, more: Partial<GrowthRecord['moults'][number]> = {}) => ({
  number,
  on,
  seenFrom: null,
  outcome: 'good' as const,
  final: false,
  ...more,
})

const animal = (more: Partial<LivedRecord> = {}): LivedRecord => ({
  id: 'a',
  clutchId: null,
  sex: 'unsexed',
  hatchedOn: day(-40),
  baselineOn: day(-20),
  baselineMoults: 2,
  baselineLastMoultOn: day(-21),
  adultSinceOn: null,
  moults: [],
  clutchStays: [{ zoneId: 'warm', from: day(-40), until: null }],
  stays: [{ zoneId: 'warm', from: day(-20), until: null }],
  ...more,
})

describe('a growth record', () => {
  test('counts moults on from its baseline, as they were known on a day', () => {
    const record = animal({ moults: [moult(3, day(-9), { seenFrom: day(-12) }), moult(4, day(-1))] })
    expect(moultsOf(record)).toBe(4)
    expect(moultsOf(recordAsOf(record, day(-10)))).toBe(2)
    expect(lastMoultOn(recordAsOf(record, day(-9)))).toBe(day(-9))
    expect(recordAsOf({ ...record, adultSinceOn: day(-1) }, day(-2)).adultSinceOn).toBeNull()
  })

  test('takes a moult on the very day its record begins, but none on the day of its last', () => {
    const record = animal({ baselineLastMoultOn: null })
    const asked = { today: TODAY, leftOn: null }
    expect(listMoultMistakes(record, { on: day(-20), seenFrom: null }, asked)).toEqual([])
    expect(listMoultMistakes(record, { on: day(-21), seenFrom: null }, asked)).toHaveLength(1)
    const moulted = animal({ moults: [moult(3, TODAY)] })
    expect(listMoultMistakes(moulted, { on: TODAY, seenFrom: null }, asked)).toHaveLength(1)
  })

  test('takes a moult up to the day the animal left, not after', () => {
    const asked = { today: TODAY, leftOn: day(-3) }
    expect(listMoultMistakes(animal(), { on: day(-3), seenFrom: null }, asked)).toEqual([])
    expect(listMoultMistakes(animal(), { on: day(-2), seenFrom: null }, asked)).toHaveLength(1)
  })
})

describe('the start of an instar', () => {
  const input = { profile, sex: 'unsexed', history: [{ from: day(-90), until: null, dayC: 26 }] } as const

  test('lies in the middle of the days between two looks', () => {
    const record = animal({ moults: [moult(3, day(-2), { seenFrom: day(-8) })] })
    expect(instarStart(record, input)).toEqual({
      on: day(-5),
      basis: 'seen',
      earliestOn: day(-8),
      latestOn: day(-2),
    })
  })

  test('is the hatch before the first moult', () => {
    const record = animal({ baselineMoults: 0, baselineLastMoultOn: null })
    expect(instarStart(record, input)).toMatchObject({ on: day(-40), basis: 'hatch' })
  })

  test('of a hatch over several days lies within them, and not after its own record began', () => {
    const record = animal({ baselineMoults: 0, baselineLastMoultOn: null, hatchedUntilOn: day(-34) })
    expect(instarStart(record, input)).toEqual({
      on: day(-37),
      basis: 'hatch',
      earliestOn: day(-40),
      latestOn: day(-34),
    })
    const early = { ...record, baselineOn: day(-38) }
    expect(instarStart(early, input)).toMatchObject({ latestOn: day(-38) })
    expect(instarStart(recordAsOf(record, day(-39)), input)).toMatchObject({ latestOn: day(-39) })
  })

  test('that nobody saw is estimated between the hatch and the day the record began', () => {
    const record = animal({ baselineLastMoultOn: null })
    const start = instarStart(record, input)
    expect(start.basis).toBe('estimated')
    expect(start.on > day(-40) && start.on <= day(-20)).toBe(true)
  })

  test('of a bought animal without a past lies half an instar back, longer ago in a cool room', () => {
    const record = animal({ hatchedOn: null, baselineLastMoultOn: null, baselineMoults: 3 })
    const warm = instarStart(record, input)
    const cool = instarStart(record, { ...input, history: [{ from: day(-90), until: null, dayC: 20 }] })
    expect(warm.on < record.baselineOn).toBe(true)
    expect(cool.on < warm.on).toBe(true)
  })
})

describe('a hatch over several days', () => {
  const hatched = (hatchedUntilOn: string | null) =>
    outlookOf(
      animal({
        ...{ hatchedOn: day(-9), hatchedUntilOn, baselineOn: day(-2) },
        ...{ baselineMoults: 0, baselineLastMoultOn: null },
        clutchStays: [{ zoneId: 'warm', from: day(-9), until: null }],
        stays: [{ zoneId: 'warm', from: day(-2), until: null }],
      }),
      known,
    )

  test('makes the first window of each animal later and wider, and says why', () => {
    const [one, many] = [hatched(null).nextMoult, hatched(day(-3)).nextMoult]
    if (one?.status !== 'forecast' || many?.status !== 'forecast') throw new Error('both have a window')
    expect(many.p50 > one.p50).toBe(true)
    expect(daysBetween(many.p10, many.p90)).toBeGreaterThan(daysBetween(one.p10, one.p90))
    expect(many.reason).toMatch(/Its clutch hatched from .* any of these days may be its own/)
    expect(one.reason).not.toMatch(/any of these days/)
  })
})

describe('the outlook of an animal', () => {
  test('is later in a cool room, and an animal takes its effective days along when it moves', () => {
    const p50 = (record: LivedRecord) => {
      const { nextMoult } = outlookOf(record, known)
      return nextMoult?.status === 'forecast' ? nextMoult.p50 : ''
    }
    const record = { moults: [moult(3, day(-4))] }
    const stay = (zoneId: string) => [{ zoneId, from: day(-20), until: null }]
    const moved = [
      { zoneId: 'warm', from: day(-20), until: day(-2) },
      { zoneId: 'cool', from: day(-2), until: null },
    ]
    const [warm, cool, both] = [stay('warm'), stay('cool'), moved].map((stays) =>
      p50(animal({ ...record, stays })),
    )
    expect(String(warm) < String(both) && String(both) < String(cool)).toBe(true)
  })

  test('counts the clutch’s room until it was parted, and its own from then on', () => {
    const start = (clutchZone: string) => {
      const clutchStays = [{ zoneId: clutchZone, from: day(-40), until: null }]
      const { nextMoult } = outlookOf(
        animal({ clutchStays, baselineMoults: 0, baselineLastMoultOn: null }),
        known,
      )
      if (nextMoult?.status !== 'forecast') throw new Error('a forecast')
      return nextMoult.basis.spentEffectiveDays
    }
    expect(start('hot') - start('warm')).toBeCloseTo(20 * (18 / 14 - 1), 5)
  })

  test('is not made up where no zone has a temperature', () => {
    const outlook = outlookOf(animal(), { ...known, zones: new Map() })
    expect(outlook).toMatchObject({ nextMoult: null, timeline: null, state: 'unknown' })
    expect(stateWords(outlook, TODAY)).toBeNull()
  })

  const late = { moults: [moult(3, day(-60))], baselineOn: day(-70), baselineLastMoultOn: null }
  const grown = { moults: [moult(7, day(-30), { final: true })], adultSinceOn: day(-30) }
  test.each([
    { state: 'soft', more: { moults: [moult(3, day(-1))] }, mark: 'leave-alone', word: /^soft until/ },
    { state: 'quiet', more: { moults: [moult(3, day(-4))] }, mark: 'fine', word: /^moult / },
    { state: 'window', more: { moults: [moult(3, day(-13))] }, mark: 'leave-alone', word: /any day/ },
    { state: 'overdue', more: late, mark: 'due', word: /overdue/ },
    { state: 'adult', more: grown, mark: 'fine', word: /adult/ },
  ])('says $state in words and with its mark', ({ state, more, mark, word }) => {
    const outlook = outlookOf(
      animal({ stays: [{ zoneId: 'warm', from: day(-70), until: null }], ...more }),
      known,
    )
    expect(outlook.state).toBe(state)
    expect(stateWords(outlook, TODAY)).toMatchObject({ state: mark, word: expect.stringMatching(word) })
  })

  test('stays soft longer after the final moult than after another', () => {
    const final = outlookOf(
      animal({ moults: [moult(6, day(-3), { final: true })], adultSinceOn: day(-3) }),
      known,
    )
    const other = outlookOf(animal({ moults: [moult(3, day(-3))] }), known)
    expect(final.softUntil).not.toBeNull()
    expect(other.softUntil).toBeNull()
    expect(daysBetween(day(-3), String(final.softUntil))).toBe(6)
  })
})

describe('leaving', () => {
  const leaving = {
    label: 'K7Q97',
    whereabouts: 'single',
    whereaboutsSince: day(-20),
    lastFedOn: day(-2),
    lastRefusedOn: null,
  } as const

  test('is advised in the middle of an instar and against while the animal is soft', () => {
    const calm = { ...animal({ baselineMoults: 3, moults: [moult(4, day(-5))] }), ...leaving }
    expect(leaveOfAnimal(calm, known).leave).toMatchObject({ may: true, blocks: [] })
    const soft = { ...animal({ moults: [moult(3, day(-1))] }), ...leaving }
    expect(leaveOfAnimal(soft, known).leave.blocks).toMatchObject([{ code: 'hardening' }])
  })

  test('counts a refusal only until it has eaten again or a week has passed', () => {
    const refusing = (lastRefusedOn: string) => {
      const record = { ...animal({ moults: [moult(3, day(-5))] }), ...leaving, lastRefusedOn }
      return leaveOfAnimal(record, known).leave.warnings.some(({ code }) => code === 'not-eating')
    }
    expect([refusing(day(-1)), refusing(day(-3)), refusing(day(-9))]).toEqual([true, false, false])
  })

  test('counts no refusal that a moult has explained', () => {
    const refusedBefore = (moultedOn: string) => {
      const record = { ...animal({ moults: [moult(3, moultedOn)] }), ...leaving, lastFedOn: day(-9) }
      const { warnings } = leaveOfAnimal({ ...record, lastRefusedOn: day(-4) }, known).leave
      return warnings.some(({ code }) => code === 'not-eating')
    }
    expect([refusedBefore(day(-6)), refusedBefore(day(-3))]).toEqual([true, false])
  })

  test('of an animal nobody has defined instars for depends on its being here alone', () => {
    const other = { ...known, profile: null }
    expect(leaveOfAnimal({ ...animal(), ...leaving }, other)).toMatchObject({
      leave: { may: true },
      outlook: null,
    })
    const sold = leaveOfAnimal({ ...animal(), ...leaving, whereabouts: 'sold' }, other)
    expect(sold.leave.blocks).toMatchObject([{ code: 'gone', message: 'K7Q 97 was sold (31 Oct).' }])
  })

  test('without a known temperature is warned of, not guessed', () => {
    const record = { ...animal({ moults: [moult(3, day(-5))] }), ...leaving }
    const { leave } = leaveOfAnimal(record, { ...known, zones: new Map() })
    expect(leave).toMatchObject({
      may: true,
      warnings: expect.arrayContaining([expect.objectContaining({ code: 'chilled' })]),
    })
  })
})

describe('injuries', () => {
  const lost = { ...moult(3, day(-9), { outcome: 'lost_limb' }), note: '' }
  const good = (number: number) => ({ ...moult(number, day(-1)), note: '' })

  test('of a lost limb are told until two moults have passed, in the keeper’s words where there are any', () => {
    expect(injuriesOf([lost])).toBe('lost limb')
    expect(injuriesOf([{ ...lost, note: 'left foreleg' }, good(4)])).toBe('left foreleg')
    expect(injuriesOf([lost, good(4), good(5)])).toBe('')
  })

  test('of a bad moult are told until the next one', () => {
    const bad = { ...moult(3, day(-9), { outcome: 'bad' }), note: '' }
    expect([injuriesOf([bad]), injuriesOf([bad, good(4)])]).toEqual(['bad moult', ''])
  })
})

describe('where an animal is', () => {
  test('is one sentence with its label as it is written on the cup', () => {
    const gone = { label: 'K7Q97', whereabouts: 'dead', whereaboutsSince: '2025-03-02' } as const
    expect(whereaboutsSentence(gone, TODAY)).toBe('K7Q 97 is recorded as dead (2 Mar 2025).')
  })
})

describe('money', () => {
  test('is a whole number of the smallest coin of its currency', () => {
    expect([minorDigits('EUR'), minorDigits('JPY'), minorDigits('KWD')]).toEqual([2, 0, 3])
    expect([minorAmount(12.5, 'EUR'), minorAmount(19.99, 'EUR'), minorAmount(1200, 'JPY')]).toEqual([
      1250, 1999, 1200,
    ])
    expect(writeMoney(1250, 'EUR', 'en')).toBe('€12.50')
  })
})
