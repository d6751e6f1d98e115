import { describe, expect, test } from 'vitest'
import { GET as GET_DEMAND } from '@/app/api/v1/food-demand/route'
import { POST as POST_PLAN } from '@/app/api/v1/food-plans/route'
import { weekdayOf } from '@/lib/domain/calendar/date'
import { createCultures } from '@/lib/features/culture/mutations'
import { countSincePlan, type KeptPlan, loadFoodPlans, loadFoodTasks } from '@/lib/features/food-plan/data'
import { createFoodPlan, createFoodReplan, recordFoodPlanAnswer } from '@/lib/features/food-plan/mutations'
import { createMouth, updateFoodLimits } from '@/lib/features/food-room/mutations'
import { listPreyLines } from '@/lib/features/prey/data'
import { updateKept } from '@/lib/features/prey/mutations'
import { FOOD_PLAN_JOBS } from '@/lib/ops/food-plan'
import { todayIn } from '@/lib/platform/plain-date'
import type { Scope } from '@/lib/platform/workspace'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

const database = requireDatabase()

const today = todayIn('Europe/Berlin')
const everyDay = Array.from({ length: 7 }, () => true)

/** Thirty nymphs that eat fruit flies, frogs that eat hydei, and not one jar. */
async function makeHungryRoom(name: string) {
  const rack = await makeRack(name, 200)
  await makeNymphs(rack, { count: 30, hatchedOn: rack.day(-20), partedOn: rack.day(-2) })
  await within(rack.owner, async (tx, { workspaceId }) => {
    await createMouth(tx, workspaceId, {
      name: 'Frogs',
      line: 'hydei',
      itemsEachTime: 60,
      weekdays: everyDay,
    })
    await updateFoodLimits(tx, workspaceId, {
      version: 0,
      shelfPlaces: 30,
      startWeekdays: everyDay,
      servicePercent: 90,
    })
  })
  return rack
}

async function run(task: string, payload: Record<string, string>) {
  // biome-ignore lint/suspicious/noExplicitAny: the task reads its payload and nothing else
  await FOOD_PLAN_JOBS.tasks[task]?.(payload, {} as any)
}

const start = (owner: Scope, count: number) =>
  within(owner, (tx, workspace) =>
    createCultures(
      tx,
      { scope: owner, workspace },
      { line: 'hydei', count, startedOn: today, shelf: '', notes: '', bought: true },
    ),
  )

const askReplans = (owner: Scope) =>
  withClient(database.urls.admin, async (client) => {
    const { rows } = await client.query<{ run_at: Date }>(
      `select run_at from graphile_worker.jobs where key = 'replan:' || $1`,
      [owner.workspaceId],
    )
    return rows
  })
const replansOf = async (owner: Scope) => (await askReplans(owner)).length
const nextReplan = async (owner: Scope) => (await askReplans(owner))[0]!.run_at

describe('the plan of live food from what is on record', () => {
  test('is worked out by its job, kept with reasons, and leaves the day what has not been done', async () => {
    const { owner } = await makeHungryRoom('Hungry room')
    const ask = () =>
      within(owner, (tx, workspace) =>
        createFoodPlan(tx, { scope: owner, workspace }, { weeks: 8, hatch: '' }),
      )
    const [one, two] = await Promise.all([ask(), ask()])
    expect(two.id).toBe(one.id)
    await run('plan-food', { workspaceId: owner.workspaceId, planId: one.id })
    const { inForce, pending, failed } = await within(owner, (tx, workspace) => loadFoodPlans(tx, workspace))
    expect([pending, failed]).toEqual([null, null])
    const weeks = inForce?.answer?.weeks ?? []
    expect(weeks).toHaveLength(8)
    const hydei = weeks.flatMap(({ starts }) => starts).filter(({ line }) => line === 'hydei')
    expect(hydei.length).toBeGreaterThan(0)
    expect(weeks.flatMap(({ reasons }) => reasons).length).toBeGreaterThan(0)
    const tasks = await within(owner, (tx, workspace) => loadFoodTasks(tx, workspace))
    const start = tasks.find(({ kind }) => kind === 'start-cultures')
    expect(start?.subject.type).toBe('prey-line')
    if (start?.subject.type !== 'prey-line') return
    const { id: line, count } = start.subject
    await within(owner, (tx, workspace) =>
      createCultures(
        tx,
        { scope: owner, workspace },
        { line, count, startedOn: today, shelf: '', notes: '', bought: true },
      ),
    )
    const left = await within(owner, (tx, workspace) => loadFoodTasks(tx, workspace))
    expect(left.map(({ title }) => title)).not.toContain(start.title)
  })

  test('is made anew after what happens, and says until then what has happened since', async () => {
    const { owner } = await makeHungryRoom('Changing room')
    const noOne = await within(owner, createFoodReplan)
    expect(noOne).toBeNull()
    await start(owner, 2)
    expect(await replansOf(owner)).toBe(0)
    const asked = await within(owner, (tx, workspace) =>
      createFoodPlan(tx, { scope: owner, workspace }, { weeks: 8, hatch: '' }),
    )
    await run('plan-food', { workspaceId: owner.workspaceId, planId: asked.id })
    expect(await within(owner, createFoodReplan)).not.toBeNull()
    expect(await within(owner, createFoodReplan)).toBeNull()
    expect(await replansOf(owner)).toBe(1)
    const soon = await nextReplan(owner)
    await start(owner, 3)
    expect(await replansOf(owner)).toBe(1)
    expect((await nextReplan(owner)).getTime()).toBeLessThan(soon.getTime())
    const since = await within(owner, (tx, { workspaceId }) => countSincePlan(tx, workspaceId, asked.id))
    expect(since).toMatchObject({ started: 3, harvested: 0, dead: 0 })
  })

  test('leaves a waiting plan to see what happens, and its own job makes the next one', async () => {
    const { owner } = await makeHungryRoom('Replanned room')
    const asked = await within(owner, (tx, workspace) =>
      createFoodPlan(tx, { scope: owner, workspace }, { weeks: 8, hatch: '' }),
    )
    await run('plan-food', { workspaceId: owner.workspaceId, planId: asked.id })
    await run('replan-food', { workspaceId: owner.workspaceId })
    const { inForce } = await within(owner, (tx, workspace) => loadFoodPlans(tx, workspace))
    expect(inForce?.id).not.toBe(asked.id)
    expect(inForce).toMatchObject({ weeks: 8, isTrial: false, madeOn: today })
  })

  test('is kept with the last few before it, not with all that there ever were', async () => {
    const { owner } = await makeHungryRoom('Much planned room')
    const answer = {
      status: 'feasible',
      gap: null,
      cost: 1,
      weeks: [],
      notes: [],
      names: { lines: {}, classes: {} },
    }
    const ids: string[] = []
    for (let turn = 0; turn < 9; turn += 1)
      await within(owner, async (tx, workspace) => {
        const { id } = await createFoodPlan(tx, { scope: owner, workspace }, { weeks: 8, hatch: '' })
        await recordFoodPlanAnswer(tx, owner.workspaceId, { id, answer: answer as KeptPlan, failure: '' })
        ids.push(id)
      })
    const kept = await within(
      owner,
      (tx, { workspaceId }) =>
        tx.$queryRaw<{ id: string }[]>`select id from food_plan
        where workspace_id = ${workspaceId}::uuid and answer is not null order by id`,
    )
    expect(kept.map(({ id }) => id)).toEqual(ids.slice(-6))
    const { inForce } = await within(owner, (tx, workspace) => loadFoodPlans(tx, workspace))
    expect(inForce?.id).toBe(ids.at(-1))
  })

  test('is made for the rest where there is no shelf or no line feeds a stage, which is named', async () => {
    const { owner } = await makeHungryRoom('Bare room')
    const token = await makeToken(owner, 'owner')
    const ask = (more: object = {}) => callApi(POST_PLAN, { token, body: { from: today, weeks: 4, ...more } })
    const noShelf = await ask({ shelfPlaces: 0 })
    expect(noShelf.status).toBe(201)
    expect(noShelf.body.notes[0]).toMatch(/^There is no shelf place: nothing is started of /)
    expect(noShelf.body.weeks.flatMap(({ starts }: { starts: object[] }) => starts)).toEqual([])
    const lines = await within(owner, (tx) => listPreyLines(tx, owner.workspaceId))
    for (const { line, version } of lines)
      await within(owner, (tx) => updateKept(tx, owner.workspaceId, { line: line.id, version, kept: false }))
    const noLine = await ask()
    expect(noLine.status).toBe(201)
    expect(noLine.body.notes[0]).toMatch(/^No line that is kept feeds [A-Z][a-z]+ .*nymphs after \d moults/)
    expect(noLine.body.weeks).toHaveLength(4)
  })

  test('is answered by the API without a case, and bad days are refused at their place', async () => {
    const { owner } = await makeHungryRoom('Room over the wire')
    const token = await makeToken(owner, 'owner')
    const planned = await callApi(POST_PLAN, {
      token,
      body: { from: today, weeks: 6, startDays: [weekdayOf(today)] },
    })
    expect(planned.status).toBe(201)
    expect(planned.body.weeks).toHaveLength(6)
    const starts = planned.body.weeks.flatMap((week: { starts: { on: string }[] }) => week.starts)
    for (const { on } of starts) expect(weekdayOf(on)).toBe(weekdayOf(today))
    expect(planned.body.cost).toBeGreaterThan(0)
    const counter = await makeToken(owner, 'counter')
    const unpriced = await callApi(POST_PLAN, { token: counter, body: { from: today, weeks: 1 } })
    expect(unpriced).toMatchObject({ status: 201, body: { cost: null } })
    const past = await callApi(POST_PLAN, { token, body: { from: '2020-01-01', weeks: 6 } })
    expect(past).toMatchObject({ status: 422, body: { errors: [{ path: 'from' }] } })
    const need = await callApi(GET_DEMAND, { token, query: '?weeks=3' })
    expect(need.status).toBe(200)
    const [week] = need.body.weeks
    const frogs = week.items.find(({ prey }: { prey: string }) => prey === 'hydei')
    expect(frogs.mean).toBeGreaterThanOrEqual(419)
    expect(frogs.p90).toBeGreaterThanOrEqual(frogs.mean)
  })
})
