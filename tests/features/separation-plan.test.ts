import { beforeAll, describe, expect, test } from 'vitest'
import { POST } from '@/app/api/v1/separation-plans/route'
import { checkPlan } from '@/lib/domain/separation/plan-check'
import { loadPlanGround } from '@/lib/features/separation-plan/data'
import { recordBenchDay, updateBenchHours } from '@/lib/features/separation-plan/mutations'
import { makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Rack } from '@/tests/support/rack'
import { callApi, makeToken, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Plans')
})

const ask = (body: object, by = rack, more: { query?: string; headers?: Record<string, string> } = {}) =>
  callApi(POST, { token: by.token, body: { from: by.today, days: 14, ...body }, ...more })
const evenings = (by: Rack, minutes: number, days = 14) =>
  Array.from({ length: days }, (_, day) => ({ on: by.day(day), minutes }))
type Answer = { days: { on: string; moves: { clutch: string; count: number; containerKind: string }[] }[] }
const movesOf = ({ days }: Answer) => days.flatMap(({ moves }) => moves)
const parted = (answer: Answer) => movesOf(answer).reduce((sum, { count }) => sum + count, 0)

describe('the plan across clutches, over the API', () => {
  test('says whom to part on which day and into what, within the hours and cups', async () => {
    const room = await makeRack('A tight week', 120)
    const older = await makeClutch(room, { hatched: 26, count: 70 })
    const younger = await makeClutch(room, { hatched: 6, count: 50 })
    const answer = await ask({ minutesPerDay: evenings(room, 45) }, room)
    expect(answer.status).toBe(201)
    expect(answer.body.status).toBe('optimal')
    expect(answer.body.days).toHaveLength(14)
    const moves = movesOf(answer.body)
    expect(moves.length).toBeGreaterThan(0)
    expect(moves.every(({ containerKind }) => containerKind === room.cup)).toBe(true)
    expect(moves.every(({ clutch }) => [older, younger].includes(clutch))).toBe(true)
    const { room: known } = await within(room.owner, (tx, workspace) =>
      loadPlanGround(tx, workspace, { from: room.today, days: 14, minutesPerDay: evenings(room, 45) }),
    )
    const days = answer.body.days.map((day: Answer['days'][number]) => ({ ...day, minutes: 0 }))
    expect(checkPlan(known, { days })).toEqual([])
  })

  test('names what cannot be met with its cost, and what would help from a plan made anew', async () => {
    const room = await makeRack('Too late', 15)
    const late = await makeClutch(room, { hatched: 30, count: 100 })
    const answer = await ask({ minutesPerDay: evenings(room, 60) }, room)
    expect(answer.body.missed).toHaveLength(1)
    expect(answer.body.missed[0]).toMatchObject({ clutch: late })
    expect(answer.body.missed[0].cost).toBeGreaterThan(1)
    expect(answer.body.helps[0].what).toContain('Cup 120 ml')
    const { saves } = answer.body.helps[0]
    const gains: number[] = []
    for (let day = 0; day < 14; day += 1) {
      const containers = [{ kind: room.cup, free: 15, ordered: [{ on: room.day(day), count: 20 }] }]
      const helped = await ask({ minutesPerDay: evenings(room, 60), containers }, room)
      gains.push(Math.abs(answer.body.expectedLosses - helped.body.expectedLosses - saves))
    }
    // Twenty cups more on the day it names save what it says: of all the days one agrees.
    expect(Math.min(...gains)).toBeLessThan(0.3)
  })

  test('of nobody is empty, and so is one without an hour or without a cup', async () => {
    const empty = await makeRack('Nobody together')
    expect((await ask({}, empty)).body).toMatchObject({
      status: 'optimal',
      expectedLosses: 0,
      missed: [],
      helps: [],
    })
    const room = await makeRack('Nothing possible')
    await makeClutch(room, { hatched: 30, count: 40 })
    for (const nothing of [
      { minutesPerDay: [] },
      { containers: [] },
      { containers: [{ kind: room.cup, free: 0 }] },
    ]) {
      const { body, status } = await ask(nothing, room)
      expect(status).toBe(201)
      expect(parted(body)).toBe(0)
      expect(body.expectedLosses).toBeGreaterThan(1)
      expect(body.missed).toHaveLength(1)
    }
  })

  test('of fifty clutches at once is answered, and can be done', async () => {
    const room = await makeRack('Fifty at once', 2000)
    for (let clutch = 0; clutch < 50; clutch += 1)
      await makeClutch(room, { hatched: 1 + (clutch % 30), count: 20 + clutch })
    const minutesPerDay = evenings(room, 90, 28)
    const answer = await ask({ days: 28, minutesPerDay }, room)
    expect(answer.status).toBe(201)
    expect(parted(answer.body)).toBeGreaterThan(200)
    const { room: known } = await within(room.owner, (tx, workspace) =>
      loadPlanGround(tx, workspace, { from: room.today, days: 28, minutesPerDay }),
    )
    const days = answer.body.days.map((day: Answer['days'][number]) => ({ ...day, minutes: 0 }))
    expect(checkPlan(known, { days })).toEqual([])
  })

  test('counts cups on order from their day', async () => {
    const room = await makeRack('On order')
    await makeClutch(room, { hatched: 30, count: 40 })
    const ordered = [{ on: room.day(3), count: 40 }]
    const containers = [{ kind: room.cup, free: 0, ordered }]
    const { body } = await ask({ minutesPerDay: evenings(room, 120), containers }, room)
    const first = (body as Answer).days.find(({ moves }) => moves.length > 0)
    expect(first?.on).toBe(room.day(3))
    expect(parted(body)).toBeGreaterThan(20)
  })

  test('keeps back the cups that growing animals will need', async () => {
    const room = await makeRack('Growing')
    await makeNymphs(room, { species: 'tenodera-sinensis', count: 6, hatchedOn: room.day(-40), moults: 2 })
    const { room: known } = await within(room.owner, (tx, workspace) =>
      loadPlanGround(tx, workspace, { from: room.today, days: 28 }),
    )
    const jar = { name: 'Jar', volumeMl: 1000, innerHeightMm: 165, innerWidthMm: 98, single: true, stock: 5 }
    expect(known.containerKinds).toHaveLength(1)
    const made = await within(room.owner, (tx, { workspaceId }) =>
      tx.containerKind.create({ data: { workspaceId, ...jar } }),
    )
    const after = await within(room.owner, (tx, workspace) =>
      loadPlanGround(tx, workspace, { from: room.today, days: 28 }),
    )
    const wanted = after.room.containerKinds.find(({ id }) => id === made.id)?.neededByGrowing ?? []
    expect(wanted.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThan(0)
    const freed = after.room.containerKinds.find(({ id }) => id === room.cup)?.ordered ?? []
    expect(freed.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThan(0)
  })

  test('as of an earlier day knows only what was known then', async () => {
    const room = await makeRack('Earlier')
    const clutch = await makeClutch(room, { hatched: 10, count: 40 })
    const before = await ask({ from: room.day(-12), minutesPerDay: [] }, room)
    expect(before.body).toMatchObject({ expectedLosses: 0, missed: [] })
    const then = await ask({ from: room.day(-5), days: 30, minutesPerDay: evenings(room, 60) }, room)
    expect(movesOf(then.body).every((move) => move.clutch === clutch)).toBe(true)
    const query = `?asOf=${room.day(-5)}`
    const looked = await ask({ from: room.day(-5), days: 30, minutesPerDay: evenings(room, 60) }, room, {
      query,
    })
    expect(looked.body).toEqual(then.body)
    expect((await ask({ from: room.day(-6) }, room, { query })).status).toBe(422)
  })

  test('of a room to come expects fewer to be there', async () => {
    const room = await makeRack('Later on')
    await makeClutch(room, { hatched: 20, count: 80 })
    const load = (from: string) =>
      within(room.owner, (tx, workspace) => loadPlanGround(tx, workspace, { from, days: 7 }))
    const [now, later] = [await load(room.today), await load(room.day(10))]
    expect(later.room.clutches[0]?.together).toBeLessThan(now.room.clutches[0]?.together ?? 0)
    expect(later.room.clutches[0]?.hazard.baseRisk[0]).toBeCloseTo(
      now.room.clutches[0]?.hazard.baseRisk[10] ?? -1,
    )
  })

  test('with the same key is the same answer, and another question under that key is refused', async () => {
    const headers = { 'idempotency-key': 'plan-1' }
    const first = await ask({}, rack, { headers })
    await makeClutch(rack, { hatched: 25, count: 30 })
    expect((await ask({}, rack, { headers })).body).toEqual(first.body)
    expect((await ask({ days: 7 }, rack, { headers })).status).toBe(422)
  })

  test('refuses what it cannot read, with the place of the mistake', async () => {
    const wrong: [object, string][] = [
      [{ days: 0 }, 'days'],
      [{ days: 400 }, 'days'],
      [{ from: '2026-02-30' }, 'from'],
      [{ from: rack.day(400) }, 'from'],
      [{ minutesPerDay: [{ on: rack.today, minutes: -5 }] }, 'minutesPerDay.0.minutes'],
      [{ minutesPerDay: [...evenings(rack, 5, 1), ...evenings(rack, 5, 1)] }, 'minutesPerDay'],
      [{ containers: [{ kind: rack.cup, free: 1.5 }] }, 'containers.0.free'],
    ]
    for (const [body, path] of wrong) {
      const answer = await ask(body)
      expect(answer.status).toBe(422)
      expect(answer.headers.get('content-type')).toContain('problem+json')
      expect(answer.body.errors.map((error: { path: string }) => error.path)).toContain(path)
    }
    expect((await ask({ hours: 3 })).status).toBe(422)
  })

  test('knows no neighbour’s cups, and plans for whoever may read clutches', async () => {
    const other = await makeRack('Next door')
    await makeClutch(other, { hatched: 30, count: 40 })
    expect((await ask({ containers: [{ kind: other.cup, free: 5 }] })).status).toBe(404)
    const token = await makeToken(rack.owner, 'viewer')
    expect((await callApi(POST, { token, body: { from: rack.today, days: 3 } })).status).toBe(201)
    expect((await callApi(POST, { body: { from: rack.today, days: 3 } })).status).toBe(401)
  })
})

describe('the hours of the bench', () => {
  const load = (by: Rack) =>
    within(by.owner, (tx, workspace) => loadPlanGround(tx, workspace, { from: by.today, days: 14 }))

  test('are a default until they are saved, and a day unlike the others counts by itself', async () => {
    const room = await makeRack('Own hours')
    expect((await load(room)).hours.version).toBe(0)
    await within(room.owner, (tx, { workspaceId }) =>
      updateBenchHours(tx, workspaceId, { version: 0, minutesByWeekday: [30, 30, 30, 30, 30, 30, 30] }),
    )
    await within(room.owner, (tx, workspace) =>
      recordBenchDay(tx, workspace, { on: room.day(2), minutes: 0, note: 'fair' }),
    )
    const minutes = (await load(room)).room.days.map((day) => day.minutes)
    expect(minutes.slice(0, 4)).toEqual([30, 30, 0, 30])
    await within(room.owner, (tx, workspace) => recordBenchDay(tx, workspace, { on: room.day(2), note: '' }))
    expect((await load(room)).room.days[2]?.minutes).toBe(30)
  })

  test('saved by two people show the second what the first saved', async () => {
    const room = await makeRack('Two savers')
    const save = (minutes: number) =>
      within(room.owner, (tx, { workspaceId }) =>
        updateBenchHours(tx, workspaceId, { version: 0, minutesByWeekday: Array(7).fill(minutes) }),
      )
    await save(30)
    await expect(save(45)).rejects.toMatchObject({ code: 'stale', present: { version: 1 } })
    await expect(
      within(room.owner, (tx, workspace) => recordBenchDay(tx, workspace, { on: room.day(-1), note: '' })),
    ).rejects.toMatchObject({ fields: [{ path: 'on' }] })
  })
})
