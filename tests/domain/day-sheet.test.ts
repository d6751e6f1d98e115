import { describe, expect, test } from 'vitest'
import { isLeftAlone, moultTasks, separationTask } from '@/lib/domain/day-sheet/task'
import { type LedgerEntry, ledgerLines, sayEntry } from '@/lib/domain/head-count/ledger'
import type { InstarNaming } from '@/lib/domain/instar/label'
import { forecastSeparation } from '@/lib/domain/separation/deadline'
import { sayDailyCost, sayWaiting } from '@/lib/domain/separation/wording'
import { profileOf, steady } from '../cases/profile'

const NAMING: InstarNaming = { convention: 'hatchling-is-first', style: 'ordinal' }

describe('the day’s animals to leave alone', () => {
  test('are the soft ones and those of whom one in ten moults by tomorrow', () => {
    const common = { softUntil: null, chanceTomorrow: 0.05 }
    expect(isLeftAlone({ ...common, state: 'soft' })).toBe(true)
    expect(isLeftAlone({ ...common, state: 'window' })).toBe(false)
    expect(isLeftAlone({ ...common, state: 'window', chanceTomorrow: 0.2 })).toBe(true)
    expect(isLeftAlone({ ...common, state: 'quiet', chanceTomorrow: 0.2 })).toBe(false)
  })

  test('are one line with the last day of the softest', () => {
    const [task] = moultTasks(
      [
        { id: 'a', state: 'soft', softUntil: '2026-11-26', chanceTomorrow: 0 },
        { id: 'b', state: 'soft', softUntil: '2026-11-27', chanceTomorrow: 0 },
        { id: 'c', state: 'window', softUntil: null, chanceTomorrow: 0.3 },
      ],
      '2026-11-25',
    )
    expect(task?.title).toBe('Leave 3 animals alone')
    expect(task?.why).toMatch(/^2 soft, the last until 27 Nov; 1 may well moult by tomorrow\./)
  })
})

test('siblings who hang are not to be parted without a word about it', () => {
  const sighting = { moulted: null, number: 2, sizeGap: false, hunger: false, hanging: 12 }
  const forecast = forecastSeparation({
    profile: profileOf('creobroter-spp'),
    hatchedOn: '2026-11-01',
    together: 40,
    history: steady(26),
    today: '2026-11-25',
    sightings: [{ ...sighting, on: '2026-11-25' }],
  })
  const clutch = {
    id: 'c',
    label: 'C-9',
    scientificName: 'Creobroter',
    together: 40,
    forecast,
    naming: NAMING,
  }
  const [task] = separationTask(clutch, '2026-11-25')
  expect(task?.why).toMatch(/^40 together.*12 hung for a moult on 25 Nov: leave them alone until 28 Nov/)
})

test('what waiting costs is said as a colleague would', () => {
  expect(sayWaiting(4.2)).toBe('Waiting costs about 4 animals a day.')
  expect(sayWaiting(1)).toBe('Waiting costs about 1 animal a day.')
  expect(sayDailyCost(0.2)).toBe('about 1 animal in 5 days')
  expect(sayWaiting(0.01)).toBe('')
})

describe('the entries of a clutch', () => {
  const entry = (id: string, more: Partial<LedgerEntry> = {}): LedgerEntry => ({
    id,
    from: 'together',
    to: 'single',
    count: 1,
    on: '2026-11-24',
    cause: null,
    note: '',
    reverses: null,
    isReversed: false,
    separationId: 'run',
    individualLabel: 'K7Q97',
    recordedBy: 'Mara',
    ...more,
  })

  test('of one run of cups stand in one line, an undone cup in its own', () => {
    const lines = ledgerLines([
      entry('3', { individualLabel: 'M2T44' }),
      entry('2', { individualLabel: 'A2B22', isReversed: true }),
      entry('1'),
    ])
    expect(lines.map(sayEntry)).toEqual(['1 in a cup: M2T 44', '1 in a cup: A2B 22', '1 in a cup: K7Q 97'])
    const run = ledgerLines([entry('2', { individualLabel: 'M2T44' }), entry('1')])
    expect(run.map(sayEntry)).toEqual(['2 in cups of their own: K7Q 97 to M2T 44'])
  })

  test('say who died of what', () => {
    const dead = { from: 'single' as const, to: 'dead' as const, cause: 'bad_moult' as const }
    expect(ledgerLines([entry('1', dead)]).map(sayEntry)).toEqual(['1 dead: K7Q 97, bad moult'])
  })
})
