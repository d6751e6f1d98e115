import { describe, expect, test } from 'vitest'
import { GET as getClutch } from '@/app/api/v1/clutches/[id]/route'
import { addDays } from '@/lib/domain/calendar/date'
import { loadClutchGround } from '@/lib/features/clutch/data'
import { createFoodPlan } from '@/lib/features/food-plan/mutations'
import { loadShortFood } from '@/lib/features/food-shortage/data'
import { FOOD_PLAN_JOBS } from '@/lib/ops/food-plan'
import { makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

describe('a clutch whose food is short', () => {
  test('is due at once by the plan of live food, and says so; as of a day before that plan it is not', async () => {
    const rack = await makeRack('Not one jar')
    const clutch = await makeClutch(rack, { hatched: 4, count: 40 })
    const load = async () => {
      const { body } = await callApi(getClutch, { token: rack.token, params: { id: clutch } })
      return body.separation
    }
    const before = await load()
    expect(before.state).toBe('fine')
    const plan = await within(rack.owner, (tx, workspace) =>
      createFoodPlan(tx, { scope: rack.owner, workspace }, { weeks: 8, hatch: '' }),
    )
    const payload = { workspaceId: rack.owner.workspaceId, planId: plan.id }
    // biome-ignore lint/suspicious/noExplicitAny: the task reads its payload and nothing else
    await FOOD_PLAN_JOBS.tasks['plan-food']?.(payload, {} as any)
    const after = await load()
    expect(after.state).not.toBe('fine')
    expect(after.dueOn <= rack.today).toBe(true)
    expect(after.reasons[0]).toMatch(/Food for this clutch is short/)
    const ask = (day: string) =>
      within(rack.owner, (tx, { workspaceId }) => loadShortFood(tx, workspaceId, day))
    expect(await ask(addDays(rack.today, -1))).toBeNull()
    expect(await ask(addDays(rack.today, 400))).toBeNull()
    const ground = await within(rack.owner, (tx, workspace) =>
      loadClutchGround(tx, workspace, { asOf: rack.day(-1) }),
    )
    expect(ground.shortFood).toBeUndefined()
  })
})
