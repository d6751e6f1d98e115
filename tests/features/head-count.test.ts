import { beforeAll, describe, expect, test } from 'vitest'
import { POST as LOSE } from '@/app/api/v1/clutches/[id]/losses/route'
import { POST as RECOUNT } from '@/app/api/v1/clutches/[id]/recounts/route'
import { GET as LOAD } from '@/app/api/v1/clutches/[id]/route'
import { listEntries } from '@/lib/features/clutch/data'
import { recordCountCorrection, recordFoundAgain, recordReversal } from '@/lib/features/clutch/mutations'
import { readRefusal } from '@/lib/platform/database-error'
import { headCountOf, makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
let other: Rack
beforeAll(async () => {
  rack = await makeRack('Head counts')
  other = await makeRack('Another breeder')
})

const lose = (id: string, body: object, token = rack.token) => callApi(LOSE, { token, params: { id }, body })
const recount = (id: string, body: object) => callApi(RECOUNT, { token: rack.token, params: { id }, body })
const ledger = (clutchId: string) =>
  within(rack.owner, (tx, { workspaceId }) => listEntries(tx, workspaceId, { clutchId, limit: 100 }))
const reverse = (clutch: string, entry: string) =>
  within(rack.owner, (tx, workspace) =>
    recordReversal(tx, { scope: rack.owner, workspace }, { clutch, entry, note: '' }),
  )

describe('losses', () => {
  test('leave the group by their cause, and every animal stays accounted for', async () => {
    const id = await makeClutch(rack, { count: 60 })
    const dead = await lose(id, { on: rack.day(-1), count: 4, cause: 'eaten_by_sibling' })
    expect(dead.status).toBe(201)
    expect(dead.body).toMatchObject({ entry: { from: 'together', to: 'dead', count: 4 }, warnings: [] })
    await lose(id, { on: rack.day(0), count: 2, to: 'escaped' })
    await lose(id, { on: rack.day(0), count: 3, to: 'given_away' })
    expect(await headCountOf(rack, id)).toEqual({
      hatched: 60,
      together: 51,
      single: 0,
      sold: 0,
      givenAway: 3,
      dead: 4,
      escaped: 2,
      unaccounted: 0,
      sums: true,
    })
    expect((await ledger(id)).map(({ cause }) => cause)).toContain('eaten_by_sibling')
  })

  test('of more than are left in a counted clutch are refused with how many there are', async () => {
    const id = await makeClutch(rack, { count: 10 })
    const answer = await lose(id, { on: rack.day(0), count: 11 })
    expect(answer.status).toBe(409)
    expect(answer.body).toMatchObject({
      type: '/problems/more-than-left',
      errors: [{ path: 'count', message: 'Only 10 are left together.' }],
      present: { headCount: { together: 10 } },
    })
    expect(await headCountOf(rack, id)).toMatchObject({ together: 10, dead: 0, sums: true })
  })

  test('of more than the likely number of an "about" raise it, but never past its range', async () => {
    const id = await makeClutch(rack, { about: { low: 40, likely: 50, high: 70 } })
    const answer = await lose(id, { on: rack.day(0), count: 55, cause: 'dried_out' })
    expect(answer.body.warnings.map(({ code }: { code: string }) => code)).toEqual(['count-raised'])
    expect(await headCountOf(rack, id)).toMatchObject({ hatched: 55, together: 0, dead: 55, sums: true })
    expect((await lose(id, { on: rack.day(0), count: 500 })).status).toBe(409)
  })

  test('tomorrow, before the hatch, of nobody, or in another breeder’s clutch are refused', async () => {
    const id = await makeClutch(rack, { count: 10, hatched: 5 })
    expect((await lose(id, { on: rack.day(1), count: 1 })).body.errors[0].path).toBe('on')
    expect((await lose(id, { on: rack.day(-6), count: 1 })).body.errors[0].path).toBe('on')
    expect((await lose(id, { on: rack.day(0), count: 0 })).status).toBe(422)
    expect((await lose(id, { on: rack.day(0), count: 1 }, other.token)).status).toBe(404)
  })

  test('by eight people at once never take more than there are', async () => {
    const id = await makeClutch(rack, { count: 20 })
    const answers = await Promise.all(
      Array.from({ length: 8 }, () => lose(id, { on: rack.day(0), count: 3, cause: 'drowned' })),
    )
    expect(answers.filter(({ status }) => status === 201)).toHaveLength(6)
    expect(answers.filter(({ status }) => status === 409)).toHaveLength(2)
    expect(await headCountOf(rack, id)).toMatchObject({ together: 2, dead: 18, sums: true })
  })
})

describe('a recount', () => {
  test('of an "about" makes it a count, and its correction is no loss', async () => {
    const id = await makeClutch(rack, { about: { low: 40, likely: 50, high: 70 } })
    await lose(id, { on: rack.day(-2), count: 5 })
    const answer = await recount(id, { on: rack.day(0), counted: 41 })
    expect(answer.body.entry).toMatchObject({ from: 'together', to: 'uncounted', count: 4 })
    expect(await headCountOf(rack, id)).toMatchObject({
      hatched: 46,
      together: 41,
      dead: 5,
      unaccounted: 0,
      sums: true,
    })
    const clutch = await callApi(LOAD, { token: rack.token, params: { id } })
    expect(clutch.body).toMatchObject({ isCounted: true, hatchedBetween: null })
  })

  test('of a counted clutch leaves the missing unaccounted, and takes them back when they turn up', async () => {
    const id = await makeClutch(rack, { count: 30 })
    await recount(id, { on: rack.day(-1), counted: 26 })
    expect(await headCountOf(rack, id)).toMatchObject({
      hatched: 30,
      together: 26,
      unaccounted: 4,
      sums: true,
    })
    await recount(id, { on: rack.day(0), counted: 27 })
    expect(await headCountOf(rack, id)).toMatchObject({
      hatched: 30,
      together: 27,
      unaccounted: 3,
      sums: true,
    })
  })

  test('that agrees with the records writes nothing', async () => {
    const id = await makeClutch(rack, { count: 12 })
    expect((await recount(id, { on: rack.day(0), counted: 12 })).body.entry).toBeNull()
    expect(await ledger(id)).toHaveLength(1)
  })

  test('of an earlier day is held against what was there that evening', async () => {
    const id = await makeClutch(rack, { count: 30, hatched: 10 })
    await lose(id, { on: rack.day(-1), count: 5 })
    const answer = await recount(id, { on: rack.day(-4), counted: 28 })
    expect(answer.body.entry).toMatchObject({ count: 2, to: 'unaccounted' })
    expect(await headCountOf(rack, id)).toMatchObject({ together: 23, unaccounted: 2, dead: 5, sums: true })
    expect(await headCountOf(rack, id, rack.day(-3))).toMatchObject({ together: 28, dead: 0, sums: true })
  })
})

describe('a correction of the hatch', () => {
  const correct = (clutch: string, hatched: number) =>
    within(rack.owner, (tx, workspace) =>
      recordCountCorrection(
        tx,
        { scope: rack.owner, workspace },
        { clutch, on: rack.day(0), hatched, note: '' },
      ),
    )

  test('up or down is an entry of its own', async () => {
    const id = await makeClutch(rack, { count: 30 })
    await lose(id, { on: rack.day(0), count: 10 })
    await correct(id, 34)
    expect(await headCountOf(rack, id)).toMatchObject({ hatched: 34, together: 24, dead: 10, sums: true })
    await correct(id, 22)
    expect(await headCountOf(rack, id)).toMatchObject({ hatched: 22, together: 12, dead: 10, sums: true })
  })

  test('cannot go below those who have already left the group', async () => {
    const id = await makeClutch(rack, { count: 30 })
    await lose(id, { on: rack.day(0), count: 10 })
    await expect(correct(id, 9)).rejects.toMatchObject({ fields: [{ path: 'hatched' }] })
  })
})

describe('taking an entry back', () => {
  test('undoes it once, on its own day', async () => {
    const id = await makeClutch(rack, { count: 30, hatched: 10 })
    const { body } = await lose(id, { on: rack.day(-3), count: 7 })
    await reverse(id, body.entry.id)
    expect(await headCountOf(rack, id)).toMatchObject({ together: 30, dead: 0, sums: true })
    expect(await headCountOf(rack, id, rack.day(-3))).toMatchObject({ together: 30, dead: 0, sums: true })
    await expect(reverse(id, body.entry.id)).rejects.toMatchObject({ code: 'already-reversed' })
  })

  test('by eight people at once happens once', async () => {
    const id = await makeClutch(rack, { count: 30 })
    const { body } = await lose(id, { on: rack.day(0), count: 7 })
    const outcomes = await Promise.allSettled(Array.from({ length: 8 }, () => reverse(id, body.entry.id)))
    expect(outcomes.filter(({ status }) => status === 'fulfilled')).toHaveLength(1)
    expect(await headCountOf(rack, id)).toMatchObject({ together: 30, dead: 0, sums: true })
  })

  test('cannot be taken back itself, nor found in another clutch', async () => {
    const id = await makeClutch(rack, { count: 30 })
    const elsewhere = await makeClutch(rack, { count: 5 })
    const { body } = await lose(id, { on: rack.day(0), count: 7 })
    await expect(reverse(elsewhere, body.entry.id)).rejects.toMatchObject({ code: 'not-found' })
    const back = await reverse(id, body.entry.id)
    await expect(reverse(id, back.value.entry.id)).rejects.toMatchObject({ code: 'stale' })
  })

  test('of the hatch itself is refused once its animals have moved on', async () => {
    const id = await makeClutch(rack, { count: 5 })
    const [hatched] = await ledger(id)
    await lose(id, { on: rack.day(0), count: 1 })
    const thrown = await reverse(id, hatched?.id ?? '').catch((error: unknown) => error)
    expect(readRefusal(thrown)?.code).toBe('more-than-left')
    expect(await headCountOf(rack, id)).toMatchObject({ hatched: 5, together: 4, dead: 1, sums: true })
  })
})

describe('an animal found again', () => {
  const find = (clutch: string, count: number) =>
    within(rack.owner, (tx, workspace) =>
      recordFoundAgain(tx, { scope: rack.owner, workspace }, { clutch, on: rack.day(0), count }),
    )

  test('reverses its escape, the newest first, as many as were found', async () => {
    const id = await makeClutch(rack, { count: 30, hatched: 10 })
    await lose(id, { on: rack.day(-5), count: 3, to: 'escaped' })
    await lose(id, { on: rack.day(-2), count: 2, to: 'escaped' })
    await find(id, 3)
    expect(await headCountOf(rack, id)).toMatchObject({ together: 28, escaped: 2, sums: true })
    await expect(find(id, 3)).rejects.toMatchObject({ code: 'more-than-left' })
    await find(id, 2)
    expect(await headCountOf(rack, id)).toMatchObject({ together: 30, escaped: 0, sums: true })
  })
})
