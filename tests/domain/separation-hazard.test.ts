import { describe, expect, it } from 'vitest'
import { forecastSeparation } from '@/lib/domain/separation/deadline'
import type { SeparationInput } from '@/lib/domain/separation/input'
import { clutchHazard } from '@/lib/domain/separation/plan-clutch'
import { type ClutchHazard, lossOfDay, lossOfDays, lossTangents } from '@/lib/domain/separation/plan-hazard'
import { profileOf, steady } from '../cases/profile'
import { TODAY } from '../cases/separation-room'

describe('the hazard of siblings left together', () => {
  const crowded: ClutchHazard = { baseRisk: [0.02, 0.03], crowdingPerAnimal: [1 / 30] }

  it('is the same as the one behind the cost of waiting', () => {
    const input: SeparationInput = {
      profile: profileOf('hierodula-spp'),
      hatchedOn: '2026-11-05',
      together: 90,
      history: steady(26),
      today: TODAY,
      volumeMl: 3000,
      signs: { hasSizeGap: true },
      lossScale: 1.4,
    }
    const hazard = clutchHazard(input, 30)
    const whileSiblings = forecastSeparation(input).costOfWaiting.filter(
      ({ expectedLosses }) => expectedLosses < 88,
    )
    expect(whileSiblings.length).toBeGreaterThan(10)
    for (const [days, { expectedLosses }] of whileSiblings.entries())
      expect(lossOfDays(hazard, { from: 0, days }, 90).loss).toBeCloseTo(expectedLosses, 6)
  })

  it('is met from below by lines that touch it, for one day and for the days after the last', () => {
    for (const span of [
      { from: 0, days: 1 },
      { from: 1, days: 7 },
    ]) {
      const lines = lossTangents(crowded, span, 100)
      expect(lines.length).toBeLessThanOrEqual(6)
      let closest = 0
      for (let count = 0; count <= 100; count += 1) {
        const loss = lossOfDays(crowded, span, count).loss
        const bound = Math.max(...lines.map(({ slope, offset }) => slope * count + offset))
        expect(bound).toBeLessThanOrEqual(loss + 1e-6)
        closest = Math.max(closest, loss - bound)
      }
      expect(closest).toBeLessThan(0.06 * lossOfDays(crowded, span, 100).loss)
    }
  })

  it('stays met from below where fourfold crowding is the most there is', () => {
    const packed: ClutchHazard = { baseRisk: [0.02], crowdingPerAnimal: [1 / 12] }
    for (const { slope, offset } of lossTangents(packed, { from: 0, days: 1 }, 120))
      for (let count = 0; count <= 120; count += 1)
        expect(slope * count + offset).toBeLessThanOrEqual(lossOfDay(packed, 0, count) + 1e-2)
  })
})
