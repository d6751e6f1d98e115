import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { changedDates, type DayDate, type KeptDate, taskDates } from '@/lib/domain/day-sheet/dates'
import { writeDayMail } from '@/lib/domain/day-sheet/mail'
import type { DayTask } from '@/lib/domain/day-sheet/task'

const date = (key: string, startsOn = '2026-12-01'): DayDate => ({
  key,
  startsOn,
  endsOn: startsOn,
  title: key,
  details: '',
  path: '',
})

/** What is kept once the changes are written. */
function keep(kept: KeptDate[], present: DayDate[]): KeptDate[] {
  const next = new Map(kept.map((each) => [each.key, each]))
  for (const change of changedDates(kept, present)) next.set(change.key, change)
  return [...next.values()]
}

describe('the dates of a calendar', () => {
  it('begin at nothing, rise by one when they move, are cancelled when they go and come back higher', () => {
    const first = keep([], [date('a'), date('b')])
    expect(first.map(({ key, sequence }) => `${key}${sequence}`)).toEqual(['a0', 'b0'])
    expect(changedDates(first, [date('a'), date('b')])).toEqual([])
    const moved = keep(first, [date('a', '2026-12-04')])
    expect(moved).toEqual([
      { ...date('a', '2026-12-04'), sequence: 1, isCancelled: false },
      { ...date('b'), sequence: 1, isCancelled: true },
    ])
    expect(changedDates(moved, [date('a', '2026-12-04')])).toEqual([])
    expect(changedDates(moved, [date('a', '2026-12-04'), date('b')])).toEqual([
      { ...date('b'), sequence: 2, isCancelled: false },
    ])
  })

  it('never fall back in their sequence, and say what is present', () => {
    const days = fc.uniqueArray(
      fc.record({
        key: fc.constantFrom('a', 'b', 'c', 'd'),
        startsOn: fc.constantFrom('2026-12-01', '2026-12-02', '2026-12-03'),
      }),
      { selector: ({ key }) => key },
    )
    fc.assert(
      fc.property(fc.array(days, { maxLength: 8 }), (history) => {
        let kept: KeptDate[] = []
        for (const present of history) {
          const before = new Map(kept.map((each) => [each.key, each.sequence]))
          const list = present.map(({ key, startsOn }) => date(key, startsOn))
          kept = keep(kept, list)
          for (const { key, sequence } of kept) expect(sequence).toBeGreaterThanOrEqual(before.get(key) ?? 0)
          const shown = kept.filter(({ isCancelled }) => !isCancelled)
          expect(shown.map(({ key, startsOn }) => key + startsOn).sort()).toEqual(
            list.map(({ key, startsOn }) => key + startsOn).sort(),
          )
        }
      }),
    )
  })
})

const task = (more: Partial<DayTask> = {}): DayTask => ({
  kind: 'separation',
  state: 'late',
  title: 'Separate clutch C-31',
  scientificName: 'Creobroter spp.',
  why: '14 together. Each day costs 2 animals.',
  subject: { type: 'clutch', id: 'c', label: 'C-31' },
  costPerDay: 2,
  ...more,
})

describe('today’s tasks', () => {
  it('stand in the calendar where they have no date of their own', () => {
    const rest = task({ kind: 'leave-alone', subject: { type: 'individuals', ids: ['x'] } })
    expect(taskDates([task(), rest], '2026-12-01').map(({ key }) => key)).toEqual(['leave-alone-all'])
  })
})

describe('the mail of a day', () => {
  const sheet = {
    workspaceName: 'Lane & Sons',
    day: 'Tuesday, 1 December 2026',
    sheetAddress: 'https://racks.example/w/lane',
    settingAddress: 'https://racks.example/w/lane/reminders',
  }

  it('says in words and in HTML the same, with the way to stop it', () => {
    const { subject, text, html } = writeDayMail({ ...sheet, tasks: [task()] })
    expect(subject).toBe('1 thing to do at Lane & Sons, Tuesday, 1 December 2026')
    expect(text).toContain('Late: Separate clutch C-31\n  Creobroter spp., 14 together.')
    for (const said of [text, html]) expect(said).toContain('https://racks.example/w/lane/reminders')
    expect(html).toContain('<em>Creobroter spp.</em>')
  })

  it('says that nothing presses, and lets no text into the page as markup', () => {
    expect(writeDayMail({ ...sheet, tasks: [] }).subject).toMatch(/^Nothing presses/)
    const { html } = writeDayMail({ ...sheet, tasks: [task({ title: '<img src=x onerror=alert(1)>' })] })
    expect(html).not.toContain('<img')
  })
})
