import { describe, expect, it } from 'vitest'
import { incubation } from '@/lib/domain/hatch/egg-clock'
import { forecastHatch } from '@/lib/domain/hatch/forecast'
import { expectedHatch, type HatchRecord, learnHatch } from '@/lib/domain/hatch/learning'
import { seededStream } from '@/lib/domain/random/seeded'
import { profileOf, steady } from '../cases/profile'

const profile = profileOf('creobroter-spp')

function eggCases(count: number, truth: { logShift: number; fertile: number; mean: number }): HatchRecord[] {
  const stream = seededStream('egg cases')
  const length = incubation(profile)
  return Array.from({ length: count }, (_, index) => {
    const hasHatched = stream.chance(truth.fertile)
    const after = stream.lognormal(length.logMean + truth.logShift, length.logSd)
    return {
      eggCaseId: `case ${index}`,
      femaleId: `female ${index % 5}`,
      order: 1,
      hatchedAfter: hasHatched ? { from: after - 0.5, until: after + 0.5 } : { from: 60, until: null },
      hasHatched,
      nymphs: hasHatched ? stream.poisson(stream.gamma(4, truth.mean / 4)) : null,
    }
  })
}

describe('hatches on record', () => {
  it('teach incubation, fertility and counts, away from the profile as they are many', () => {
    const learned = learnHatch(profile, eggCases(80, { logShift: 0.15, fertile: 0.5, mean: 60 }))
    expect(learned.incubation.logMean - incubation(profile).logMean).toBeGreaterThan(0.1)
    expect(learned.incubation.logMean - incubation(profile).logMean).toBeLessThan(0.2)
    const { fertileShare, nymphs } = expectedHatch(learned, { femaleId: null, order: 1 })
    expect(fertileShare).toBeGreaterThan(0.4)
    expect(fertileShare).toBeLessThan(0.66)
    expect(nymphs.mean).toBeGreaterThan(48)
    expect(nymphs.mean).toBeLessThan(72)
  })

  it('leave the profile as it is while there are none', () => {
    const learned = learnHatch(profile, [])
    expect(learned.incubation.logMean).toBeCloseTo(incubation(profile).logMean, 9)
    expect(expectedHatch(learned, { femaleId: 'anyone', order: 1 }).fertileShare).toBeCloseTo(0.85, 9)
    expect(expectedHatch(learned, { femaleId: null, order: 1 }).nymphs.mean).toBeCloseTo(30, 9)
  })

  it('of one female count for her more than for the others', () => {
    const poor = (index: number): HatchRecord => ({
      eggCaseId: `poor ${index}`,
      femaleId: 'poor',
      order: index + 1,
      hatchedAfter: { from: 60, until: null },
      hasHatched: false,
      nymphs: null,
    })
    const learned = learnHatch(profile, [
      ...eggCases(20, { logShift: 0, fertile: 0.9, mean: 30 }),
      poor(0),
      poor(1),
      poor(2),
    ])
    const hers = expectedHatch(learned, { femaleId: 'poor', order: 4 })
    const another = expectedHatch(learned, { femaleId: 'female 1', order: 4 })
    expect(hers.fertileShare).toBeLessThan(another.fertileShare - 0.2)
    expect(expectedHatch(learned, { femaleId: 'female 1', order: 1 }).nymphs.mean).toBeGreaterThan(
      another.nymphs.mean,
    )
  })

  it('count while they are still waiting: those not hatched yet make the incubation longer', () => {
    const waiting: HatchRecord[] = Array.from({ length: 6 }, (_, index) => ({
      eggCaseId: `waiting ${index}`,
      femaleId: null,
      order: null,
      hatchedAfter: { from: Math.exp(incubation(profile).logMean) * 1.05, until: null },
      hasHatched: null,
      nymphs: null,
    }))
    expect(learnHatch(profile, waiting).incubation.logMean).toBeGreaterThan(
      incubation(profile).logMean + 0.01,
    )
  })

  it('are the same in any order, and move the window', () => {
    const records = eggCases(40, { logShift: 0.2, fertile: 0.9, mean: 30 })
    const learned = learnHatch(profile, records)
    expect(learnHatch(profile, [...records].reverse())).toEqual(learned)
    const input = {
      profile,
      laid: { kind: 'known' as const, on: '2026-11-01' },
      history: steady(26),
      today: '2026-11-10',
    }
    const before = forecastHatch(input)
    const after = forecastHatch({ ...input, incubation: learned.incubation })
    if (before.status !== 'forecast' || after.status !== 'forecast') throw new Error('no window')
    expect(after.p50 > before.p50).toBe(true)
  })
})
