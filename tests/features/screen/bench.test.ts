import { describe, expect, it } from 'vitest'
import { listOthers } from '@/app/bench/_components/kept-for-others'
import { readBenchAddress } from '@/app/bench/_components/use-bench-address'
import { sayChange } from '@/components/bench/bench-voice'
import type { Entry, KeptRun } from '@/components/bench/queue/entry'
import { forgetting } from '@/components/bench/queue/leaving'
import type { BenchWho } from '@/lib/features/bench/schema'

const counts = { housed: 38, planned: 64, together: 102, dead: 0, escaped: 0 }

describe('the bench says aloud', () => {
  it('every tenth cup, and none between', () => {
    expect(sayChange(counts, { ...counts, housed: 39 })).toBe('')
    expect(sayChange({ ...counts, housed: 39 }, { ...counts, housed: 40 })).toBe('40')
  })

  it('what somebody else took from the same clutch, and not what one took oneself', () => {
    expect(sayChange(counts, { ...counts, together: 97 })).toBe('Counted beside you: 97 still together.')
    expect(sayChange(counts, { ...counts, housed: 39, together: 101 })).toBe('')
  })

  it('every loss and every taking back', () => {
    expect(sayChange(counts, { ...counts, dead: 1 })).toBe('Dead, 1.')
    expect(sayChange(counts, { ...counts, escaped: 1 })).toBe('Escaped, 1.')
    expect(sayChange({ ...counts, housed: 40 }, { ...counts, housed: 39 })).toBe('Taken back. 39 in cups.')
  })
})

const WORKSPACE = '019a0e5d-8000-7408-88e2-d2d54da2a49e'
const RUN = '01a21f20-8261-7b28-baf4-e6f44b08ac28'

describe('the address of the bench', () => {
  it('names a run behind the #, with the stage that was chosen', () => {
    const named = { workspaceId: WORKSPACE, run: RUN }
    expect(readBenchAddress(`#${WORKSPACE}/${RUN}`)).toEqual(named)
    expect(readBenchAddress(`#${WORKSPACE}/${RUN}/3`)).toEqual({ ...named, moults: 3 })
    expect(readBenchAddress(`#${WORKSPACE}/${RUN}/99`)).toEqual({ ...named, moults: 12 })
  })

  it('that names nothing leads to what the device has', () => {
    for (const hash of ['', '#', `#${RUN}`, `#${WORKSPACE}/../x`, '#javascript:alert(1)'])
      expect(readBenchAddress(hash)).toBeNull()
  })
})

describe('entries that are not for whoever is signed in', () => {
  const person = { id: 'mara', name: 'Mara' }
  const entry = (
    id: string,
    more: Partial<Entry['operation']> = {},
    state: Entry['state'] = 'waiting',
  ): Entry => ({
    order: 1,
    run: 'run',
    tap: { id, kind: 'cup' },
    operation: {
      id,
      workspaceId: 'w',
      personId: 'mara',
      run: 'run',
      kind: 'cup',
      payload: {},
      on: '2026-11-24',
      tappedAt: '2026-11-24T18:00:00Z',
      v: 1,
      ...more,
    },
    state,
  })
  const kept: KeptRun = {
    workspace: { id: 'w', slug: 'larch-lane', name: 'Larch Lane' },
    person,
    run: { id: 'run', on: '2026-11-24', planned: 5, firstNumber: 1, containerKindId: 'k', isFinished: false },
    clutch: { id: 'c', label: 'C-9', scientificName: 'Creobroter' },
    kinds: [],
    labels: [],
    standing: {
      together: 9,
      housed: 0,
      dead: 0,
      escaped: 0,
      hanging: 0,
      isCounted: true,
      nextNumber: 1,
      endNumber: 9,
      seen: 'x',
    },
    likelyMoults: 1,
    deadline: '',
    hangingUntil: '',
    moults: 1,
  }
  const who = (id: string, mayCount = true): BenchWho => ({
    person: { id, name: id, email: `${id}@example.test` },
    workspaces: [{ id: 'w', slug: 'larch-lane', name: 'Larch Lane', mayCount }],
  })

  it('are named with their person and their workspace, and those that were sent are not', () => {
    const entries = [entry('1'), entry('2'), entry('3', {}, 'sent')]
    expect(listOthers({ entries, runs: [kept], who: who('mara') })).toEqual([])
    const [others] = listOthers({ entries, runs: [kept], who: who('jonas') })
    expect(others?.what).toBe('2 entries by Mara at Larch Lane are kept on this device.')
    expect(others?.why).toContain('Mara has to sign in here')
    expect(others?.entries.map(({ operation }) => operation.id)).toEqual(['1', '2'])
  })

  it('of a workspace one has left are one’s own still, and can be saved', () => {
    const [others] = listOthers({ entries: [entry('1')], runs: [kept], who: who('mara', false) })
    expect(others?.what).toBe('1 entry by you at Larch Lane is kept on this device.')
    expect(others?.why).toContain('do not belong to that workspace now')
  })

  it('and of a device that was signed out elsewhere nothing stays but what was not sent, with its run', () => {
    const gone = { ...kept, run: { ...kept.run, id: 'over' } }
    const sent = { ...entry('4', { run: 'over' }, 'sent'), run: 'over' }
    const entries = [entry('1'), entry('2', {}, 'sent'), sent]
    expect(forgetting({ entries, runs: [kept, gone], who: who('mara') })).toEqual({
      remove: ['4'],
      removeRuns: [gone],
      who: null,
    })
    const all = forgetting({ entries: [entry('2', {}, 'sent')], runs: [kept], who: who('mara') })
    expect(all).toEqual({ remove: ['2'], removeRuns: [kept], who: null })
  })
})
