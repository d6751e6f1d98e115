import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { addDays, daysBetween } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { chanceWithin } from '@/lib/domain/development/forecast'
import { chanceWithinDays, dateWindow, futureOf, HORIZON_DAYS } from '@/lib/domain/development/window'
import { briefOutlookOf } from '@/lib/domain/individual/brief-outlook'
import { type LivedRecord, outlookOf } from '@/lib/domain/individual/outlook'
import { stateWords } from '@/lib/domain/individual/state-words'
import { lognormalBelow } from '@/lib/domain/probability/lognormal'

const TODAY = '2026-11-20'
const day = (offset: number) => addDays(TODAY, offset)
const naming = { convention: 'hatchling-is-first', style: 'ordinal' } as const
const warmth = fc.constantFrom(14, 18, 21, 24, 27, 31)

const animal: fc.Arbitrary<LivedRecord> = fc
  .record({
    sex: fc.constantFrom('male', 'female', 'unsexed'),
    baselineMoults: fc.integer({ min: 0, max: 8 }),
    hatchedAgo: fc.option(fc.integer({ min: 60, max: 300 }), { nil: null }),
    baselineAgo: fc.integer({ min: 1, max: 59 }),
    isLastSeen: fc.boolean(),
    isAdult: fc.boolean(),
    moultedAgo: fc.option(fc.integer({ min: 0, max: 90 }), { nil: null }),
    zoneId: fc.constantFrom('one', 'other', 'unknown'),
  })
  .map(({ sex, baselineMoults, hatchedAgo, baselineAgo, isLastSeen, isAdult, moultedAgo, zoneId }) => {
    const on = moultedAgo === null ? null : day(-Math.min(moultedAgo, baselineAgo))
    return {
      id: 'a',
      clutchId: null,
      sex,
      hatchedOn: hatchedAgo === null ? null : day(-hatchedAgo),
      baselineOn: day(-baselineAgo),
      baselineMoults,
      baselineLastMoultOn: isLastSeen ? day(-baselineAgo - 2) : null,
      adultSinceOn: isAdult ? (on ?? day(-baselineAgo)) : null,
      moults: on
        ? [{ number: baselineMoults + 1, on, seenFrom: null, outcome: 'good' as const, final: isAdult }]
        : [],
      clutchStays: [],
      stays: [{ zoneId, from: day(-baselineAgo), until: null }],
    }
  })

describe('the outlook of an animal in a list', () => {
  test('says the stage, the state, the words and the days of its whole outlook', () => {
    const asked = fc.record({
      animal,
      profile: fc.constantFrom(...DEFAULT_PROFILES.map((species) => species.profile)),
      oneC: warmth,
      otherC: warmth,
    })
    fc.assert(
      fc.property(asked, ({ animal: record, profile, oneC, otherC }) => {
        const room = (dayC: number) => ({ setPoints: [{ from: '2026-01-01', dayC, nightC: null }] })
        const zones = new Map([
          ['one', room(oneC)],
          ['other', room(otherC)],
        ])
        const known = { profile, naming, zones, today: TODAY, learned: null }
        const whole = outlookOf(record, known)
        const brief = briefOutlookOf(record, known)
        expect(brief).toMatchObject({ stage: whole.stage, softUntil: whole.softUntil, state: whole.state })
        expect(stateWords(brief, TODAY)).toEqual(stateWords(whole, TODAY))
        expect(brief.nextMoult?.status).toBe(whole.nextMoult?.status)
        if (brief.nextMoult?.status !== 'forecast' || whole.nextMoult?.status !== 'forecast') return
        const { p10, p90, chanceTomorrow } = brief.nextMoult
        expect({ p10, p90 }).toEqual({ p10: whole.nextMoult.p10, p90: whole.nextMoult.p90 })
        expect(chanceTomorrow).toBe(chanceWithin(whole.nextMoult, 1))
      }),
      { numRuns: 400 },
    )
  })
})

describe('the window of a waiting time', () => {
  test('is of the first days by whose end the chance is reached, as found by trying every day', () => {
    const asked = fc.record({
      median: fc.double({ min: 0.2, max: 900, noNaN: true }),
      logSd: fc.double({ min: 0.05, max: 0.8, noNaN: true }),
      dayC: warmth,
      sdC: fc.constantFrom(0, 0.5, 1.5, 4),
    })
    fc.assert(
      fc.property(asked, ({ median, logSd, dayC, sdC }) => {
        const history = [{ from: day(-30), until: null, dayC }]
        const thresholds = { lowerC: 12, referenceC: 26, upperC: 34 }
        const future = futureOf({ history, thresholds, sdC }, TODAY)
        const chanceBy = (effectiveDays: number) =>
          lognormalBelow({ logMean: Math.log(median), logSd }, effectiveDays)
        const firstOn = (chance: number) => {
          for (let offset = 0; offset <= HORIZON_DAYS; offset += 1)
            if (chanceWithinDays(future, chanceBy, offset + 0.5) >= chance) return offset
          return null
        }
        const window = dateWindow(future, chanceBy)
        const tried = { p10: firstOn(0.1), p50: firstOn(0.5), p90: firstOn(0.9) }
        if (tried.p90 === null) expect(window).toBeNull()
        else
          expect({
            p10: daysBetween(TODAY, window?.p10 ?? ''),
            p50: daysBetween(TODAY, window?.p50 ?? ''),
            p90: daysBetween(TODAY, window?.p90 ?? ''),
          }).toEqual(tried)
      }),
      { numRuns: 60 },
    )
  })
})
