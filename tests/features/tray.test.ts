import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, it } from 'vitest'
import { POST as moult } from '@/app/api/v1/trays/[id]/moults/route'
import { POST as take } from '@/app/api/v1/trays/[id]/takings/route'
import { GET as list } from '@/app/api/v1/trays/route'
import { moultsOf } from '@/lib/domain/individual/record'
import { formatCode, parseCode } from '@/lib/domain/label/code'
import { recordBenchOperations } from '@/lib/features/bench/mutations'
import { recordTrayFeeding } from '@/lib/features/feeding/mutations'
import { createSeparation } from '@/lib/features/separation/mutations'
import { loadRunOrTrayLabels, openTray, requireTray } from '@/lib/features/tray/data'
import { headCountOf, makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Tray lane')
})

/** A run at the bench that a device ends as a tray. */
async function makeTray(cups: number) {
  const clutch = await makeClutch(rack, { count: cups + 3 })
  const asked = { clutch, containerKind: rack.cup, zone: rack.zone, on: rack.day(-5), planned: cups }
  const { value: run } = await within(rack.owner, (tx, workspace) =>
    createSeparation(tx, { scope: rack.owner, workspace }, asked),
  )
  const tap = (kind: string, payload: object = {}) => ({
    id: randomUUID(),
    workspaceId: rack.owner.workspaceId,
    personId: rack.owner.personId,
    run: run.id,
    kind,
    payload,
    on: rack.day(-5),
    tappedAt: new Date().toISOString(),
    v: 1,
  })
  const cup = () => tap('cup', { containerKind: rack.cup, moults: 1 })
  const ending = tap('tray')
  const person = { personId: String(rack.owner.personId), scopes: [rack.owner] }
  const send = (operations: unknown[]) => recordBenchOperations(person, operations)
  const answers = await send([...Array.from({ length: cups }, cup), tap('finish'), ending])
  const label = answers.at(-1) as { status: string; label?: string }
  const listed = await callApi(list, { token: rack.token })
  const tray = listed.body.items.find((each: { label: string }) => each.label === label.label)
  return { clutch, run: run.id, tray, again: () => send([ending]) }
}

const post = (handler: Parameters<typeof callApi>[0], id: string, body: unknown) =>
  callApi(handler, { token: rack.token, params: { id }, body })
const load = (id: string) => within(rack.owner, (tx, { workspaceId }) => requireTray(tx, workspaceId, id))

describe('cups of one clutch that stay a tray', () => {
  it('come from the bench with one label, arrive once, and every sum holds', async () => {
    const { clutch, tray, again } = await makeTray(6)
    expect(tray).toMatchObject({ clutch, count: 6 })
    expect(parseCode(tray.label)).toEqual({ status: 'ok', kind: 'tray', code: tray.label })
    expect(await again()).toMatchObject([{ status: 'already-applied', label: tray.label }])
    expect(await headCountOf(rack, clutch)).toMatchObject({ together: 3, single: 6, sums: true })
  })

  it('have one label for all, and one of its own for whoever is taken out', async () => {
    const { tray } = await makeTray(5)
    const ids = (await load(tray.id)).animals.map(({ id }) => id)
    const taken = await post(take, tray.id, { count: 2 })
    expect(taken.status).toBe(201)
    expect(taken.body.left).toBe(3)
    const labels = await within(rack.owner, (tx, workspace) =>
      loadRunOrTrayLabels(tx, workspace, { ids, address: 'https://racks.example' }),
    )
    const own = taken.body.individuals.map(({ label }: { label: string }) => formatCode(label))
    expect(labels.labels.map(({ code }) => code).sort()).toEqual([...own, tray.label].sort())
    expect(labels.labels.find(({ code }) => code === tray.label)?.url).toMatch(/\/c\/CT-\d+$/)
    expect((await post(take, tray.id, { count: 4 })).status).toBe(409)
  })

  it('moult by number: those behind first, and never more than there are', async () => {
    const { tray } = await makeTray(5)
    const stages = async () => (await load(tray.id)).animals.map(moultsOf).sort()
    expect((await post(moult, tray.id, { count: 3, on: rack.day(-3) })).body.recorded).toBe(3)
    expect(await stages()).toEqual([1, 1, 2, 2, 2])
    await post(moult, tray.id, { count: 2, on: rack.day(-2) })
    expect(await stages()).toEqual([2, 2, 2, 2, 2])
    expect((await post(moult, tray.id, { count: 6, on: rack.today })).status).toBe(409)
    const older = await post(take, tray.id, { count: 1, moults: 1 })
    expect(older.status).toBe(409)
  })

  it('are fed as one', async () => {
    const { tray } = await makeTray(4)
    const said = await within(rack.owner, (tx, workspace) =>
      recordTrayFeeding(tx, workspace, {
        tray: tray.id,
        on: rack.today,
        result: 'ate',
        prey: 'melanogaster',
      }),
    )
    expect(said.recorded).toBe(4)
    expect((await load(tray.id)).animals.every(({ lastFedOn }) => lastFedOn === rack.today)).toBe(true)
  })

  it('are one tray however many keep the same run as one, and two who take at once never take the same', async () => {
    const { run, tray } = await makeTray(6)
    const keep = () => within(rack.owner, (tx, workspace) => openTray(tx, workspace, { run }))
    const kept = await Promise.all([keep(), keep(), keep()])
    expect(new Set(kept.map(({ label }) => label))).toEqual(new Set([tray.label]))
    const answers = await Promise.all(Array.from({ length: 8 }, () => post(take, tray.id, { count: 1 })))
    const given = answers.flatMap(({ status, body }) => (status === 201 ? body.individuals : []))
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 201, 201, 201, 201, 201, 409, 409])
    expect(new Set(given.map(({ id }: { id: string }) => id)).size).toBe(6)
  })
})
