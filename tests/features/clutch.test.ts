import { beforeAll, describe, expect, test } from 'vitest'
import { GET as LOAD } from '@/app/api/v1/clutches/[id]/route'
import { GET as LIST } from '@/app/api/v1/clutches/route'
import { updateClutchZone } from '@/lib/features/clutch/mutations'
import { createZone } from '@/lib/features/zone/mutations'
import { makeClutch } from '@/tests/support/brood'
import { requireDatabase } from '@/tests/support/database'
import { makeRack, type Rack } from '@/tests/support/rack'
import { callApi, within } from '@/tests/support/workspaces'

requireDatabase()

let rack: Rack
beforeAll(async () => {
  rack = await makeRack('Clutches')
})

const load = (id: string, query = '', token = rack.token) => callApi(LOAD, { token, params: { id }, query })

describe('the separation of a clutch', () => {
  test('is fine at the hatch, then due, then late, and says why and what waiting costs', async () => {
    const fresh = (await load(await makeClutch(rack, { count: 60, hatched: 1 }))).body.separation
    expect(fresh.state).toBe('fine')
    expect(fresh.dueOn < fresh.lateOn).toBe(true)
    expect(fresh.reasons.length).toBeGreaterThan(0)
    const losses = fresh.expectedLosses.map(({ animals }: { animals: number }) => animals)
    expect(losses[0]).toBe(0)
    expect(losses).toEqual(losses.toSorted((a: number, b: number) => a - b))
    const old = (await load(await makeClutch(rack, { count: 60, hatched: 40 }))).body.separation
    expect(old.state).toBe('late')
    expect(old.perDayNow).toBeGreaterThanOrEqual(1)
  })

  test('comes later in a cooler zone and does not count a move twice', async () => {
    const id = await makeClutch(rack, { count: 60, hatched: 8 })
    const before = (await load(id)).body.separation.dueOn
    await within(rack.owner, async (tx, workspace) => {
      const cool = await createZone(tx, workspace, { name: 'Side room', setTemperatureC: 20 })
      const actor = { scope: rack.owner, workspace }
      await updateClutchZone(tx, actor, { clutch: id, zone: cool.id, on: rack.day(0) })
      await expect(
        updateClutchZone(tx, actor, { clutch: id, zone: rack.zone, on: rack.day(-2) }),
      ).rejects.toMatchObject({ fields: [{ path: 'on' }] })
      await expect(
        updateClutchZone(tx, actor, { clutch: id, zone: cool.id, on: rack.day(0) }),
      ).rejects.toMatchObject({ fields: [{ path: 'zone' }] })
    })
    const after = (await load(id)).body
    expect(after.separation.dueOn > before).toBe(true)
    expect((await load(id, `?asOf=${rack.day(-1)}`)).body).toMatchObject({
      zone: rack.zone,
      separation: { dueOn: before },
    })
  })

  test('looked at from an earlier day knows only what was known then', async () => {
    const id = await makeClutch(rack, { count: 60, hatched: 40 })
    expect((await load(id, `?asOf=${rack.day(-39)}`)).body.separation.state).toBe('fine')
    expect((await load(id, `?asOf=${rack.day(-41)}`)).status).toBe(404)
  })
})

describe('the list of clutches', () => {
  test('shows this breeder’s own, by species and in pages', async () => {
    const own = await makeRack('A list of their own')
    const made: string[] = []
    for (const species of ['creobroter-spp', 'creobroter-spp', 'hymenopus-coronatus'])
      made.push(await makeClutch(own, { species }))
    const list = (query: string) => callApi(LIST, { token: own.token, query })
    const ids = ({ body }: Awaited<ReturnType<typeof list>>) => body.items.map(({ id }: { id: string }) => id)
    expect(ids(await list('')).toSorted()).toEqual(made.toSorted())
    expect(ids(await list('?species=hymenopus-coronatus'))).toEqual([made[2]])
    const first = await list('?limit=2')
    const second = await list(`?limit=2&cursor=${first.body.nextCursor}`)
    expect([...ids(first), ...ids(second)].toSorted()).toEqual(made.toSorted())
    expect((await list('?colour=brown')).status).toBe(422)
    expect((await load(made[0] ?? '')).status).toBe(404)
    expect((await load('not-an-id')).status).toBe(404)
  })
})
