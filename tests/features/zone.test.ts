import { describe, expect, test } from 'vitest'
import { PATCH } from '@/app/api/v1/zones/[id]/quarantine/route'
import { GET, POST } from '@/app/api/v1/zones/route'
import { addDays } from '@/lib/domain/calendar/date'
import { countOccupantsByZone, getSetPointOn, listZones, requireZone } from '@/lib/features/zone/data'
import {
  archiveZone,
  createZone,
  recordQuarantine,
  recordSetPoint,
  updateZone,
} from '@/lib/features/zone/mutations'
import { requireDatabase } from '@/tests/support/database'
import { callApi, makeToken, makeWorkspace, within } from '@/tests/support/workspaces'

requireDatabase()

const shelf = { name: 'Warm shelf', setTemperatureC: 26.5 }

describe('a zone', () => {
  test('is set to its temperature from today and keeps what it was set to before', async () => {
    const owner = await makeWorkspace('Zone keeper')
    const zone = await within(owner, async (tx, workspace) => {
      const { id } = await createZone(tx, workspace, shelf)
      const { today } = workspace
      await recordSetPoint(tx, workspace, { zoneId: id, from: addDays(today, -30), dayC: 24 })
      await recordSetPoint(tx, workspace, { zoneId: id, from: addDays(today, 5), dayC: 28, nightC: 22 })
      return { today, ...(await requireZone(tx, owner.workspaceId, id)) }
    })
    expect(zone.setPoints.map(({ dayC, nightC }) => [dayC, nightC])).toEqual([
      [24, null],
      [26.5, null],
      [28, 22],
    ])
    expect(getSetPointOn(zone.setPoints, addDays(zone.today, -1))?.dayC).toBe(24)
    expect(getSetPointOn(zone.setPoints, zone.today)?.dayC).toBe(26.5)
    expect(getSetPointOn(zone.setPoints, addDays(zone.today, -300))?.dayC).toBe(24)
  })

  test('is in quarantine until a day to come, and out of it without one', async () => {
    const owner = await makeWorkspace('Quarantine keeper')
    const { id } = await within(owner, (tx, workspace) => createZone(tx, workspace, shelf))
    const put = (version: number, days: number | null) =>
      within(owner, (tx, workspace) =>
        recordQuarantine(tx, workspace, {
          ...{ id, version, reason: 'new stock' },
          ...(days === null ? {} : { until: addDays(workspace.today, days) }),
        }),
      )
    const zone = () => within(owner, (tx) => requireZone(tx, owner.workspaceId, id))
    for (const days of [0, -3, 500])
      await expect(put(1, days)).rejects.toMatchObject({ code: 'invalid', fields: [{ path: 'until' }] })
    await put(1, 21)
    expect(await zone()).toMatchObject({ quarantineReason: 'new stock', version: 2 })
    await expect(put(1, 30)).rejects.toMatchObject({ code: 'stale' })
    await put(2, null)
    expect(await zone()).toMatchObject({ quarantineUntil: null, quarantineReason: '' })
    const token = await makeToken(owner, 'keeper')
    const until = '2099-01-01'
    const answer = await callApi(PATCH, { token, params: { id }, body: { until }, method: 'PATCH' })
    expect(answer).toMatchObject({ status: 422, body: { errors: [{ path: 'until' }] } })
  })

  test('set twice for one day holds what was entered last', async () => {
    const owner = await makeWorkspace('Twice set')
    const setPoints = await within(owner, async (tx, workspace) => {
      const { id } = await createZone(tx, workspace, shelf)
      await recordSetPoint(tx, workspace, { zoneId: id, from: workspace.today, dayC: 23, nightC: 19 })
      return (await requireZone(tx, owner.workspaceId, id)).setPoints
    })
    expect(setPoints.map(({ dayC, nightC }) => [dayC, nightC])).toEqual([[23, 19]])
  })

  test('cannot be set for a day years ahead, which is a mistyped year', async () => {
    const owner = await makeWorkspace('Far ahead')
    const attempt = within(owner, async (tx, workspace) => {
      const { id } = await createZone(tx, workspace, shelf)
      await recordSetPoint(tx, workspace, { zoneId: id, from: addDays(workspace.today, 900), dayC: 23 })
    })
    await expect(attempt).rejects.toMatchObject({ code: 'invalid', fields: [{ path: 'from' }] })
  })

  test('has a name that no other zone in use has', async () => {
    const owner = await makeWorkspace('Same name')
    await within(owner, (tx, workspace) => createZone(tx, workspace, shelf))
    const again = await callApi(POST, { token: await makeToken(owner, 'keeper'), body: shelf })
    expect(again.status).toBe(409)
    expect(again.body.type).toBe('/problems/name-taken')
    await within(owner, async (tx, workspace) => {
      const [zone] = await listZones(tx, owner.workspaceId)
      await archiveZone(tx, owner.workspaceId, { id: zone?.id ?? '', version: 1 })
      await createZone(tx, workspace, shelf)
    })
  })

  test('renamed by two people at once keeps the first name and shows it to the second', async () => {
    const owner = await makeWorkspace('Two pens')
    const { id } = await within(owner, (tx, workspace) => createZone(tx, workspace, shelf))
    const rename = (name: string) =>
      within(owner, (tx) => updateZone(tx, owner.workspaceId, { id, version: 1, name, walkingOrder: 0 }))
    await rename('Upper shelf')
    await expect(rename('Lower shelf')).rejects.toMatchObject({
      code: 'stale',
      present: { name: 'Upper shelf', version: 2 },
    })
  })

  test('with an animal’s siblings still in it cannot be put out of use', async () => {
    const owner = await makeWorkspace('Still in it')
    const attempt = within(owner, async (tx, workspace) => {
      const { workspaceId } = workspace
      const { id } = await createZone(tx, workspace, shelf)
      const species = await tx.species.findFirstOrThrow({ where: { workspaceId } })
      const on = new Date(`${workspace.today}T00:00:00Z`)
      const clutch = await tx.clutch.create({
        data: { workspaceId, label: 'C-1', speciesId: species.id, hatchedOn: on },
      })
      await tx.clutchHousing.create({ data: { workspaceId, clutchId: clutch.id, zoneId: id, fromOn: on } })
      expect((await countOccupantsByZone(tx, workspaceId)).get(id)).toEqual({
        animals: 0,
        clutches: 1,
        eggCases: 0,
      })
      await archiveZone(tx, workspaceId, { id, version: 1 })
    })
    await expect(attempt).rejects.toThrow('Still standing in it: 1 clutch. Move them first.')
  })

  test('of another workspace is not there, whatever is done to it', async () => {
    const owner = await makeWorkspace('Own rooms')
    const neighbour = await makeWorkspace('Next door')
    const { id } = await within(neighbour, (tx, workspace) => createZone(tx, workspace, shelf))
    await within(owner, async (tx, workspace) => {
      const { workspaceId, today } = workspace
      expect(await listZones(tx, workspaceId, true)).toEqual([])
      await expect(requireZone(tx, workspaceId, id)).rejects.toMatchObject({ code: 'not-found' })
      for (const attempt of [
        () => updateZone(tx, workspaceId, { id, version: 1, name: 'Mine', walkingOrder: 0 }),
        () => archiveZone(tx, workspaceId, { id, version: 1 }),
        () => recordSetPoint(tx, workspace, { zoneId: id, from: today, dayC: 40 }),
      ])
        await expect(attempt()).rejects.toMatchObject({ code: 'not-found' })
    })
    const [zone] = await within(neighbour, (tx) => listZones(tx, neighbour.workspaceId))
    expect(zone).toMatchObject({ name: 'Warm shelf', version: 1 })
  })
})

describe('zones over the API', () => {
  test('are made by a keeper’s token, once for one key, and not by a viewer’s', async () => {
    const owner = await makeWorkspace('Zone till')
    const token = await makeToken(owner, 'keeper')
    const call = { token, body: shelf, headers: { 'idempotency-key': 'first-shelf' } }
    const first = await callApi(POST, call)
    expect(first.status).toBe(201)
    expect(first.body).toMatchObject({ name: 'Warm shelf', setTemperatureC: 26.5, nightTemperatureC: null })
    expect((await callApi(POST, call)).body).toEqual(first.body)
    expect((await callApi(GET, { token })).body).toMatchObject({
      items: [{ id: first.body.id }],
      nextCursor: null,
    })
    const other = await callApi(POST, { ...call, body: { ...shelf, name: 'Another' } })
    expect([other.status, other.body.type]).toEqual([422, '/problems/key-reused'])
    const viewer = await makeToken(owner, 'viewer')
    expect((await callApi(POST, { token: viewer, body: { ...shelf, name: 'Cellar' } })).status).toBe(403)
    expect((await callApi(GET, {})).status).toBe(401)
  })

  test('are refused with the path of each wrong value and of what is not known', async () => {
    const token = await makeToken(await makeWorkspace('Wrong values'), 'keeper')
    const answer = await callApi(POST, { token, body: { name: '', setTemperatureC: 200, colour: 'red' } })
    expect(answer.status).toBe(422)
    expect(answer.headers.get('content-type')).toBe('application/problem+json')
    expect(answer.body.errors.map((error: { path: string }) => error.path).sort()).toEqual([
      'colour',
      'name',
      'setTemperatureC',
    ])
    expect((await callApi(POST, { token, body: '{"name":' })).status).toBe(422)
    const mistaken = await callApi(POST, { token, body: { name: 'Warm shelf', setTemperatureC: 79 } })
    expect(mistaken.body.errors).toEqual([
      { path: 'setTemperatureC', message: 'Not above 60 °C. If that is °F, it is 26 °C.' },
    ])
  })
})
