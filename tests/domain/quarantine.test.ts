import { expect, test } from 'vitest'
import { isQuarantined, quarantineLast, sayQuarantine } from '@/lib/domain/zone/quarantine'

const TODAY = '2026-05-10'

test('a zone is in quarantine until its day, and not on it', () => {
  expect(sayQuarantine('2026-05-11', TODAY)).toBe('in quarantine until 11 May')
  expect(sayQuarantine(TODAY, TODAY)).toBeNull()
  expect(isQuarantined(null, TODAY)).toBe(false)
})

test('a round ends with the zones in quarantine and keeps its order otherwise', () => {
  const zones = [
    { name: 'new stock', quarantineUntil: '2026-06-01' },
    { name: 'warm shelf', quarantineUntil: null },
    { name: 'was ill', quarantineUntil: '2026-05-01' },
  ]
  expect(quarantineLast(zones, TODAY).map(({ name }) => name)).toEqual(['warm shelf', 'was ill', 'new stock'])
})
