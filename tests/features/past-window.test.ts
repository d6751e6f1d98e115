import type { JobHelpers } from 'graphile-worker'
import { beforeAll, describe, expect, test } from 'vitest'
import { GET as getPastWindows } from '@/app/api/v1/past-windows/route'
import { recordLooks } from '@/lib/features/look/mutations'
import { recordMoults } from '@/lib/features/moult/mutations'
import { listLateEntries, listPastWindows } from '@/lib/features/past-window/data'
import { updatePastWindows } from '@/lib/features/past-window/mutations'
import type { PastWindowsAnswer } from '@/lib/features/past-window/schema'
import { requireSpecies } from '@/lib/features/species/data'
import { TASKS } from '@/lib/ops/tasks'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makeNymphs, makeRack, type Nymph, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

const database = requireDatabase()
const SPECIES = 'creobroter-spp'
const HATCHED = -75

let rack: Rack
let nymphs: Nymph[]

const moult = (of: Rack, animals: readonly Nymph[], { on, from }: { on: string; from?: string }) =>
  within(of.owner, (tx, workspace) =>
    recordMoults(
      tx,
      workspace,
      animals.map(({ id }) => ({
        individual: id,
        on,
        outcome: 'good' as const,
        final: false,
        note: '',
        at: '',
        spanField: 'seenFrom' as const,
        ...(from ? { seenBetween: { from, until: on } } : {}),
      })),
    ),
  )

const work = (of: Rack, atOnce?: number) =>
  within(of.owner, async (tx, workspace) => {
    const { id } = await requireSpecies(tx, workspace.workspaceId, SPECIES)
    return updatePastWindows(tx, workspace, { speciesId: id, atOnce })
  })

async function ask(of: Rack, query: Record<string, string>): Promise<PastWindowsAnswer> {
  const { status, body } = await callApi(getPastWindows, {
    token: of.token,
    query: `?${new URLSearchParams(query)}`,
  })
  expect([status, body]).toEqual([200, body])
  return body
}

beforeAll(async () => {
  rack = await makeRack('Hindsight room')
  nymphs = await makeNymphs(rack, { species: SPECIES, count: 8, hatchedOn: rack.day(HATCHED) })
  await moult(rack, nymphs, { on: rack.day(HATCHED + 12) })
  await moult(rack, nymphs.slice(0, 7), { on: rack.day(HATCHED + 23) })
  // One was sat on for ever: nobody looked at it again until long after its window.
  await within(rack.owner, (tx, workspace) =>
    recordLooks(tx, { scope: rack.owner, workspace }, { on: rack.day(-1), individuals: [nymphs[7]!.id] }),
  )
})

describe('what was entered late', () => {
  test('is told of animals that were here, and not of history that came with them', async () => {
    const room = await makeRack('Late entries')
    const [here, bought] = await makeNymphs(room, { species: SPECIES, count: 2, hatchedOn: room.day(-40) })
    await withClient(database.urls.admin, async (client) => {
      await client.query(`select set_config('app.workspace_id', $1, false)`, [room.owner.workspaceId])
      await client.query(`update individual set created_at = created_at - interval '50 days' where id = $1`, [
        here!.id,
      ])
    })
    await moult(room, [here!, bought!], { on: room.day(-9) })
    const late = await within(room.owner, async (tx, workspace) => {
      const { id } = await requireSpecies(tx, workspace.workspaceId, SPECIES)
      return listLateEntries(tx, workspace, id)
    })
    expect(late.filter(({ kind }) => kind === 'moult')).toEqual([
      { kind: 'moult', subjectId: here!.id, on: room.day(-9), knownOn: room.today },
    ])
  })
})

describe('windows that were given', () => {
  test('are worked out once, and only those of months whose records changed are again', async () => {
    const first = await work(rack)
    expect(first.worked).toBeGreaterThanOrEqual(3)
    expect(first.left).toBe(0)
    expect(await work(rack)).toEqual({ worked: 0, left: 0 })
    await moult(rack, nymphs.slice(0, 1), { on: rack.day(HATCHED + 34) })
    const again = await work(rack)
    expect(again.worked).toBeGreaterThan(0)
    expect(again.worked).toBeLessThanOrEqual(first.worked)
  })

  test('are judged against what came, with what is late and has not come', async () => {
    const answer = await ask(rack, { species: SPECIES })
    const next = answer.kinds.find(({ kind }) => kind === 'next-moult')!
    // Eight first instars, eight second ones, seven third ones and the one that was recorded after.
    expect(next.coverage.judged).toBeGreaterThanOrEqual(16)
    expect(next.coverage.stillRunning).toBe(1)
    expect(next.sentence).toMatch(/\d+ of \d+ windows held\./)
    expect(next.leftOut.join()).toMatch(/not looked at since their window ended/)
    const own = await ask(rack, { individual: nymphs[7]!.id })
    expect(own.windows.map(({ moults, verdict }) => [moults, verdict])).toContainEqual([1, 'late'])
    const ofClutch = await ask(rack, { clutch: nymphs[0]!.clutchId })
    expect(ofClutch.kinds[0]?.coverage).toEqual(next.coverage)
  })

  test('are known on an earlier day only as far as they were over by then', async () => {
    const then = await ask(rack, { species: SPECIES, asOf: rack.day(HATCHED + 14) })
    for (const { givenOn } of then.windows) expect(givenOn <= rack.day(HATCHED + 14)).toBe(true)
    expect(then.windows.filter(({ moults }) => moults === 1).every(({ came }) => came === null)).toBe(true)
    expect(then.kinds[0]?.coverage.judged).toBe(0)
    expect(then.kinds[0]?.coverage.open).toBe(16)
    const { status, body } = await callApi(getPastWindows, {
      token: rack.token,
      query: `?asOf=${rack.day(1)}`,
    })
    expect([status, body.errors?.[0]?.path]).toEqual([422, 'asOf'])
  })

  test('count a moult noticed over several days in parts', async () => {
    const shelf = await makeRack('Late looks')
    const [animal] = await makeNymphs(shelf, { species: SPECIES, count: 1, hatchedOn: shelf.day(-40) })
    await work(shelf)
    const [before] = (await ask(shelf, { individual: animal!.id })).windows
    const [from, on] = [before!.p90, shelf.day(-1)]
    await moult(shelf, [animal!], { on, from })
    const { windows, kinds } = await ask(shelf, { individual: animal!.id })
    expect(windows.at(-1)).toMatchObject({ came: { earliestOn: from, latestOn: on }, verdict: 'in-parts' })
    expect(kinds[0]?.coverage).toMatchObject({ judged: 1, inParts: 1 })
    expect(kinds[0]!.coverage.held).toBeLessThan(1)
    expect(kinds[0]!.coverage.held).toBeGreaterThan(0)
  })

  test('come from the queue a few months at a time, and are asked for by each new fit', async () => {
    const shelf = await makeRack('Queued hindsight')
    const payload = await within(shelf.owner, async (tx, { workspaceId }) => ({
      workspaceId,
      speciesId: (await requireSpecies(tx, workspaceId, SPECIES)).id,
    }))
    const kept = await makeNymphs(shelf, { species: SPECIES, count: 2, hatchedOn: shelf.day(-100) })
    await moult(shelf, kept, { on: shelf.day(-88) })
    expect(await work(shelf, 1)).toMatchObject({ worked: 1 })
    await TASKS['look-back']!(payload, {} as JobHelpers)
    expect(await work(shelf)).toEqual({ worked: 0, left: 0 })
    const rows = await within(shelf.owner, (tx, { workspaceId, today }) =>
      listPastWindows(tx, workspaceId, { speciesId: payload.speciesId, asOf: today }),
    )
    expect(rows.filter(({ kind }) => kind === 'next-moult')).toHaveLength(4)
  })

  test('of who is not here are not found', async () => {
    const { status } = await callApi(getPastWindows, {
      token: (await makeRack('Next door')).token,
      query: `?individual=${nymphs[0]!.id}`,
    })
    expect(status).toBe(404)
  })
})
