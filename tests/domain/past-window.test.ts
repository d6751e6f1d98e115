import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addDays } from '@/lib/domain/calendar/date'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import type { KeptAnimal } from '@/lib/domain/growth/evidence'
import { type GivenWindow, givenWindows, type MonthOfWindows } from '@/lib/domain/past-window/given'
import { coverageOf, type JudgedWindow, judgeWindow, type Outcome } from '@/lib/domain/past-window/judge'
import { type DatedEvidence, evidenceAsOf, listPastMonths, withEntries } from '@/lib/domain/past-window/month'
import { summarise } from '@/lib/domain/past-window/summary'
import { listLeftOut, sayHeld, sayMiss, sayMissed, sayTrust } from '@/lib/domain/past-window/wording'
import type { ZonesById } from '@/lib/domain/zone/history'

const window: GivenWindow = {
  kind: 'next-moult',
  subjectId: 'a',
  moults: 2,
  givenOn: '2026-03-01',
  p10: '2026-03-10',
  p50: '2026-03-12',
  p90: '2026-03-14',
  chanceInside: 0.85,
}
const came = (earliestOn: string, latestOn = earliestOn): Outcome => ({
  came: { earliestOn, latestOn },
  seenWithoutOn: null,
  leftOn: null,
})
const notYet = (seenWithoutOn: string | null, leftOn: string | null = null): Outcome => ({
  came: null,
  seenWithoutOn,
  leftOn,
})

describe('a window is judged', () => {
  it('only once its last day is over, whatever came before', () => {
    expect(judgeWindow(window, came('2026-03-11'), '2026-03-14')).toEqual({ status: 'open' })
    expect(judgeWindow(window, came('2026-03-11'), '2026-03-15')).toMatchObject({ status: 'judged', held: 1 })
  })
  it('with its first and last day counted in', () => {
    for (const [on, side] of [
      ['2026-03-09', 'early'],
      ['2026-03-10', 'held'],
      ['2026-03-14', 'held'],
      ['2026-03-15', 'late'],
    ] as const)
      expect(judgeWindow(window, came(on), '2026-04-01')).toMatchObject({ [side]: 1 })
  })
  it('in parts where a moult was noticed over several days', () => {
    const verdict = judgeWindow(window, came('2026-03-13', '2026-03-16'), '2026-04-01')
    expect(verdict).toMatchObject({ held: 0.5, late: 0.5, early: 0, spanDays: 4 })
  })
  it('as late where it was seen after the window and had not moulted, here or gone', () => {
    const here = judgeWindow(window, notYet('2026-03-16'), '2026-03-20')
    expect(here).toMatchObject({ status: 'judged', late: 1, isStillRunning: true })
    const gone = judgeWindow(window, notYet('2026-03-16', '2026-03-16'), '2026-03-20')
    expect(gone).toMatchObject({ status: 'judged', late: 1, isStillRunning: false })
  })
  it('not at all where it left before, or nobody has looked since', () => {
    expect(judgeWindow(window, notYet('2026-03-11', '2026-03-11'), '2026-03-20')).toEqual({ status: 'left' })
    expect(judgeWindow(window, notYet('2026-03-14'), '2026-03-20')).toEqual({ status: 'unseen' })
  })
  it('into parts that sum to one, for every span', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 0, max: 12 }), (after, span) => {
        const latestOn = addDays('2026-03-01', after)
        const verdict = judgeWindow(window, came(addDays(latestOn, -span), latestOn), '2027-01-01')
        if (verdict.status !== 'judged') throw new Error('an over window is judged')
        expect(verdict.early + verdict.held + verdict.late).toBeCloseTo(1, 12)
      }),
    )
  })
})

const judged = (outcomes: readonly Outcome[], family = (at: number) => `f${at}`): JudgedWindow[] =>
  outcomes.map((outcome, at) => ({
    window,
    verdict: judgeWindow(window, outcome, '2026-06-01'),
    familyId: family(at),
    instarsSeen: at,
  }))

const times = (count: number, outcome: Outcome) => Array.from({ length: count }, () => outcome)

describe('many windows', () => {
  it('are counted against the chances they gave themselves', () => {
    const all = judged([...times(40, came('2026-03-12')), ...times(6, came('2026-03-20'))])
    const coverage = coverageOf([...all, ...judged([...times(4, came('2026-03-05'))])])
    expect(coverage).toMatchObject({ judged: 50, held: 40, late: 6, early: 4, medianWindowDays: 5 })
    expect(coverage.said).toBeCloseTo(42.5, 9)
    expect(sayHeld(coverage)).toBe('40 of 50 windows held.')
    expect(sayMissed(coverage)).toBe('Of the 10 that did not, 6 came later than said and 4 earlier.')
    expect(sayTrust(coverage)).toMatch(/about 43 should have: that is as good as they said/)
  })
  it('that fail are said to, with the side to allow for', () => {
    const coverage = coverageOf(judged([...times(20, came('2026-03-12')), ...times(30, came('2026-03-20'))]))
    expect(sayTrust(coverage)).toMatch(/take them as wider than they say, and allow for later/)
  })
  it('of one clutch that was late as a whole are not taken for many trials', () => {
    const outcomes = [...times(20, came('2026-03-12')), ...times(10, came('2026-03-20'))]
    const alone = coverageOf(judged(outcomes))
    const siblings = coverageOf(judged(outcomes, (at) => (at < 20 ? 'quick' : 'slow')))
    expect(sayTrust(alone)).toMatch(/wider than they say/)
    expect(sayTrust(siblings)).toMatch(/as good as they said/)
  })
  it('are not spoken about while they are few', () => {
    expect(sayTrust(coverageOf(judged(times(3, came('2026-03-12')))))).toBe(
      '3 windows are too few to say how good they are.',
    )
  })
  it('leave out by name what nobody can know', () => {
    const coverage = coverageOf(judged([notYet('2026-03-02'), notYet('2026-03-02', '2026-03-02')]))
    expect(listLeftOut(coverage)).toEqual([
      '1 left or died before their window was over',
      '1 not looked at since their window ended',
    ])
  })
  it('stand apart by stage and by what they rested on', () => {
    const [summary] = summarise(judged(times(120, came('2026-03-12'))))
    expect(summary?.byStage.map(({ moults, coverage }) => [moults, coverage.judged])).toEqual([[2, 120]])
    expect(summary?.byRecords.map(({ coverage }) => coverage.judged)).toEqual([25, 75, 20])
  })
  it('that missed say by how much', () => {
    expect(sayMiss({ ...window, came: came('2026-03-17').came }, '2026-04-01')).toBe(
      'It came on 17 Mar, 3 days later.',
    )
    expect(sayMiss({ ...window, came: null }, '2026-04-01')).toBe('It has not come since.')
  })
})

const profile = DEFAULT_PROFILES.find(({ slug }) => slug === 'creobroter-spp')?.profile
const zones: ZonesById = new Map([['z', { setPoints: [{ from: '2025-01-01', dayC: 26, nightC: null }] }]])

function animal(id: string, moults: readonly string[]): KeptAnimal & { seenOn: string[] } {
  return {
    id,
    clutchId: 'c',
    sex: 'female',
    hatchedOn: '2026-01-05',
    baselineOn: '2026-01-05',
    baselineMoults: 0,
    baselineLastMoultOn: null,
    adultSinceOn: null,
    moults: moults.map((on, index) => ({
      number: index + 1,
      on,
      seenFrom: null,
      outcome: 'good',
      final: false,
      isConfirmed: false,
    })),
    stays: [{ zoneId: 'z', from: '2026-01-05', until: null }],
    lastSeenOn: '2026-04-01',
    seenOn: ['2026-01-31', '2026-02-27', '2026-04-01'],
    leftOn: null,
    diedMoulting: false,
  }
}
const evidence: DatedEvidence = {
  animals: [
    animal('a', ['2026-01-17', '2026-01-28', '2026-02-12']),
    animal('b', ['2026-01-18', '2026-01-30', '2026-02-16']),
  ],
  clutches: [],
  eggCases: [],
}

function run(of: DatedEvidence, month: { from: string; until: string }): MonthOfWindows {
  if (!profile) throw new Error('the species is there')
  const steps = givenWindows({ profile, evidence: of, zones }, month)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

const FEBRUARY = { from: '2026-02-01', until: '2026-03-01' }

describe('what was given in a month', () => {
  it('is one window for each instar that began in it, and one for the final moult', () => {
    const { windows, instarsSeen } = run(evidence, FEBRUARY)
    expect(windows.map(({ kind, subjectId, givenOn, moults }) => [kind, subjectId, givenOn, moults])).toEqual(
      [
        ['next-moult', 'a', '2026-02-12', 3],
        ['next-moult', 'b', '2026-02-16', 3],
        ['final-moult', 'a', '2026-02-12', 3],
        ['final-moult', 'b', '2026-02-16', 3],
      ],
    )
    expect(instarsSeen).toBe(4)
    for (const { givenOn, p10, p50, p90, chanceInside } of windows) {
      expect(givenOn <= p10 && p10 <= p50 && p50 <= p90).toBe(true)
      expect(chanceInside).toBeGreaterThanOrEqual(0.8)
      expect(chanceInside).toBeLessThan(1)
    }
  })
  it('knows nothing of what came later', () => {
    const later = evidence.animals.map((one) => ({
      ...one,
      adultSinceOn: '2026-05-01',
      leftOn: '2026-05-09',
      diedMoulting: true,
      seenOn: [...one.seenOn, '2026-05-08'],
      moults: [...one.moults, { ...one.moults[2]!, number: 4, on: '2026-05-01', final: true }],
    }))
    expect(run({ ...evidence, animals: later }, FEBRUARY)).toEqual(run(evidence, FEBRUARY))
    expect(evidenceAsOf({ ...evidence, animals: later }, '2026-02-28')).toEqual(
      evidenceAsOf(evidence, '2026-02-28'),
    )
  })
  it('counts what was entered late from the day it was entered', () => {
    const late = withEntries(evidence, [
      { kind: 'moult', subjectId: 'a', on: '2026-02-12', knownOn: '2026-02-20' },
      { kind: 'moult', subjectId: 'b', on: '2026-02-16', knownOn: '2026-03-04' },
    ])
    const given = ({ windows }: MonthOfWindows) =>
      windows.map(({ subjectId, givenOn }) => [subjectId, givenOn])
    expect(given(run(late, FEBRUARY))).toEqual([
      ['a', '2026-02-20'],
      ['a', '2026-02-20'],
    ])
    const march = run(late, { from: '2026-03-01', until: '2026-04-01' })
    expect(given(march)).toContainEqual(['b', '2026-03-04'])
    expect(march.instarsSeen).toBe(5)
    expect(evidenceAsOf(late, '2026-02-19').animals.map(({ moults }) => moults.length)).toEqual([2, 2])
  })
  it('gives nothing while an earlier moult was still to be entered', () => {
    const late = withEntries(evidence, [
      { kind: 'moult', subjectId: 'a', on: '2026-01-28', knownOn: '2026-02-20' },
    ])
    const given = run(late, FEBRUARY).windows.filter(({ subjectId }) => subjectId === 'a')
    expect(new Set(given.map(({ givenOn, moults }) => `${givenOn} ${moults}`))).toEqual(
      new Set(['2026-02-20 3']),
    )
  })
  it('counts an animal whose sex could not be told yet as of unknown sex', () => {
    const male = { ...evidence, animals: evidence.animals.map((one) => ({ ...one, sex: 'male' as const })) }
    const nextOf = ({ windows }: MonthOfWindows) => windows.filter(({ kind }) => kind === 'next-moult')
    const JANUARY = { from: '2026-01-01', until: '2026-02-01' }
    expect(nextOf(run(male, JANUARY))).toEqual(nextOf(run(evidence, JANUARY)))
  })
  it('is looked at month by month from the first record on', () => {
    expect(listPastMonths(evidence, '2026-03-10', 24)).toEqual([
      { from: '2026-01-01', until: '2026-02-01' },
      { from: '2026-02-01', until: '2026-03-01' },
      { from: '2026-03-01', until: '2026-03-11' },
    ])
    expect(listPastMonths(evidence, '2026-03-10', 1)).toHaveLength(1)
    expect(listPastMonths({ animals: [], clutches: [], eggCases: [] }, '2026-03-10', 24)).toEqual([])
  })
})
