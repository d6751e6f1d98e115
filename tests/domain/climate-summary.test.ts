import { expect, test } from 'vitest'
import { sayClimate, summariseClimate } from '@/lib/domain/zone/climate-summary'

const SET = [{ from: '2026-01-01', dayC: 28, nightC: 24 }]
const day = (on: string, meanC: number) => ({ on, minC: meanC - 2, meanC, maxC: meanC + 2 })

test('a stretch is said with how far the dial is off', () => {
  const summary = summariseClimate([day('2026-03-01', 25), day('2026-03-04', 25.4)], SET, { days: 30 })
  expect(summary).toMatchObject({ measuredDays: 2, lowestC: 23, highestC: 27.4 })
  expect(summary.strayC).toBeCloseTo(-0.8, 9)
  expect(sayClimate(summary, 'celsius')).toBe(
    'Read on 2 of 30 days, between 23 °C and 27.4 °C. On average it was 0.8 °C colder than it is set to.',
  )
  expect(sayClimate(summary, 'fahrenheit')).toContain('1.4 °F colder')
})

test('a stretch as it was set, and one that nobody read', () => {
  expect(sayClimate(summariseClimate([day('2026-03-01', 26)], SET, { days: 30 }), 'celsius')).toContain(
    'as it is set',
  )
  expect(sayClimate(summariseClimate([], SET, { days: 30 }), 'celsius')).toContain('Nobody read')
})
