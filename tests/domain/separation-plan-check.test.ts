import { describe, expect, it } from 'vitest'
import { checkPlan } from '@/lib/domain/separation/plan-check'
import { SEPARATION_LABOUR } from '@/lib/domain/separation/plan-room'
import { planClutch, planRoom, TODAY } from '../cases/separation-room'

describe('the check of a plan', () => {
  const move = { clutch: 'first', count: 5, containerKind: 'cup' }
  const planOf = (changes: Partial<typeof move>, day = 0) => ({
    days: planRoom().days.map(({ on }, number) => ({
      on,
      minutes: 0,
      moves: number === day ? [{ ...move, ...changes }] : [],
    })),
  })

  it('passes what can be done', () => {
    expect(checkPlan(planRoom(), planOf({}))).toEqual([])
  })

  it.each([
    ['half an animal', planRoom(), planOf({ count: 2.5 })],
    [
      'more than there are',
      planRoom({ labour: { ...SEPARATION_LABOUR, secondsPerNymph: 1 } }),
      planOf({ count: 41 }),
    ],
    ['an evening too short', planRoom(), planOf({ count: 1 }, 1)],
    ['hanging animals', planRoom({ clutches: [planClutch({ blocked: [TODAY] })] }), planOf({})],
    ['animals too young', planRoom({ clutches: [planClutch({ safeFrom: '2026-11-26' })] }), planOf({})],
    [
      'a container that does not fit',
      planRoom({ clutches: [planClutch({ containerKinds: [] })] }),
      planOf({}),
    ],
    ['an unknown clutch', planRoom(), planOf({ clutch: 'other' })],
    [
      'cups that are not there',
      planRoom({ containerKinds: [{ ...planRoom().containerKinds[0]!, free: 4 }] }),
      planOf({}),
    ],
    [
      'cups that growing animals need later',
      planRoom({
        containerKinds: [
          { ...planRoom().containerKinds[0]!, free: 6, neededByGrowing: [{ on: '2026-11-27', count: 2 }] },
        ],
      }),
      planOf({}),
    ],
    [
      'feeding that nobody has time for',
      planRoom({ labour: { ...SEPARATION_LABOUR, secondsPerCupFeeding: 4000 } }),
      planOf({}),
    ],
  ])('finds %s', (_, room, plan) => {
    expect(checkPlan(room, plan).length).toBeGreaterThan(0)
  })
})
