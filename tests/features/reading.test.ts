import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { GET, POST } from '@/app/api/v1/zones/[id]/readings/route'
import { historyOfKnownZone } from '@/lib/domain/zone/history'
import { listDaysOfReadings, listReadingBatches } from '@/lib/features/reading/data'
import {
  archiveReadingBatch,
  recordPastedReadings,
  recordTypedReading,
} from '@/lib/features/reading/mutations'
import { loadZonesById, requireZone } from '@/lib/features/zone/data'
import { createZone } from '@/lib/features/zone/mutations'
import { requireDatabase } from '@/tests/support/database'
import { callApi, makeMember, makeToken, makeWorkspace, within } from '@/tests/support/workspaces'

requireDatabase()

type Owner = Awaited<ReturnType<typeof makeWorkspace>>

async function makeShelf(name: string): Promise<{ owner: Owner; zoneId: string; token: string }> {
  const owner = await makeWorkspace(name)
  const zone = { name: 'Warm shelf', setTemperatureC: 26 }
  const { id } = await within(owner, (tx, workspace) => createZone(tx, workspace, zone))
  return { owner, zoneId: id, token: await makeToken(owner, 'keeper') }
}

const hourly = (from: string, count: number, of: (hour: number) => number = () => 24) =>
  Array.from({ length: count }, (_, hour) => ({
    at: new Date(Date.parse(from) + hour * 3_600_000).toISOString(),
    temperatureC: of(hour),
  }))
const post = (token: string, zoneId: string, body: unknown) =>
  callApi(POST, { token, params: { id: zoneId }, body })

describe('a sensor', () => {
  test('posts readings that the forecasts then count instead of the set temperature', async () => {
    const { owner, zoneId, token } = await makeShelf('Sensor shelf')
    const answer = await post(
      token,
      zoneId,
      hourly('2026-03-09T23:00:00Z', 24, (hour) => 20 + (hour % 2)),
    )
    expect(answer.status).toBe(201)
    expect(answer.body).toMatchObject({ received: 24, added: 24, replaced: 0, unchanged: 0 })
    const zones = await within(owner, (tx) => loadZonesById(tx, owner.workspaceId))
    const zone = zones.get(zoneId)
    expect(zone?.days).toEqual([{ on: '2026-03-10', hoursC: [], partsC: [20, 20, 21, 21] }])
    const measured = historyOfKnownZone(zone ?? { setPoints: [] }).find(({ from }) => from === '2026-03-10')
    expect(measured).toMatchObject({ until: '2026-03-11', dayC: 20.5, partsC: [20, 20, 21, 21] })
    expect(zone?.lastReading?.temperatureC).toBe(21)
  })

  test('that sends the same again changes nothing, and another value at that instant replaces the first', async () => {
    const { owner, zoneId, token } = await makeShelf('Twice sent')
    const first = hourly('2026-03-10T08:00:00Z', 3)
    await post(token, zoneId, first)
    const again = await post(token, zoneId, first)
    expect(again.body).toMatchObject({ received: 3, added: 0, replaced: 0, unchanged: 3 })
    const corrected = await post(token, zoneId, [{ ...first[1], temperatureC: 30 }, first[2]])
    expect(corrected.body).toMatchObject({ added: 0, replaced: 1, unchanged: 1 })
    const { body } = await callApi(GET, { token, params: { id: zoneId } })
    expect(body.items.map(({ temperatureC }: { temperatureC: number }) => temperatureC)).toEqual([24, 30, 24])
    const [day] = await within(owner, (tx) =>
      listDaysOfReadings(tx, owner.workspaceId, { zoneId, from: '2026-01-01' }),
    )
    expect(day).toMatchObject({ on: '2026-03-10', readings: 3, minC: 24, maxC: 30 })
    const trail = await within(owner, (tx) =>
      tx.auditEntry.findMany({ where: { workspaceId: owner.workspaceId, tableName: 'reading' } }),
    )
    expect(trail.map(({ change }) => change)).toEqual(['update'])
  })

  test('that sends one reading that cannot be right has none of them taken, and each named', async () => {
    const { zoneId, token } = await makeShelf('Bad readings')
    const [one, two, three] = hourly('2026-03-10T08:00:00Z', 3)
    const bad = [one, { ...two, temperatureC: 78 }, { ...three, at: one?.at }]
    const answer = await post(token, zoneId, bad)
    expect(answer.status).toBe(422)
    expect(answer.body.errors).toEqual([
      {
        path: '1.temperatureC',
        message: '78 °C? Read in °F it would be 25.6 °C. Send isSure with it if it stands.',
      },
      { path: '2.at', message: 'is earlier than the reading before it: send them oldest first.' },
    ])
    expect((await callApi(GET, { token, params: { id: zoneId } })).body.items).toEqual([])
  })

  test.each([
    ['out of range', [{ at: '2026-03-10T08:00:00Z', temperatureC: 95 }]],
    ['in the future', [{ at: '2199-03-10T08:00:00Z', temperatureC: 25 }]],
    ['without an offset', [{ at: '2026-03-10T08:00:00', temperatureC: 25 }]],
    ['with a field nobody knows', [{ at: '2026-03-10T08:00:00Z', temperatureC: 25, warm: true }]],
    ['with an impossible humidity', [{ at: '2026-03-10T08:00:00Z', temperatureC: 25, humidityPct: 101 }]],
    ['none at all', []],
    ['more than ten thousand', hourly('2020-03-10T08:00:00Z', 10_001)],
  ])('is refused readings %s', async (_what, body) => {
    const { zoneId, token } = await makeShelf('Refused readings')
    expect((await post(token, zoneId, body)).status).toBe(422)
  })

  test('may send ten thousand at once, and pages through them', async () => {
    const { owner, zoneId, token } = await makeShelf('Ten thousand')
    const body = Array.from({ length: 10_000 }, (_, index) => ({
      at: new Date(Date.parse('2026-01-01T00:00:00Z') + index * 300_000).toISOString(),
      temperatureC: 24 + (index % 7) / 10,
      humidityPct: 60,
    }))
    const answer = await post(token, zoneId, body)
    expect(answer.body).toMatchObject({ received: 10_000, added: 10_000 })
    const page = await callApi(GET, { token, params: { id: zoneId }, query: '?limit=6000' })
    expect(page.body.items).toHaveLength(6000)
    const cursor = encodeURIComponent(page.body.nextCursor)
    const rest = await callApi(GET, { token, params: { id: zoneId }, query: `?limit=6000&cursor=${cursor}` })
    expect(rest.body.items).toHaveLength(4000)
    expect(rest.body.nextCursor).toBeNull()
    const zones = await within(owner, (tx) => loadZonesById(tx, owner.workspaceId))
    expect(zones.get(zoneId)?.days).toHaveLength(35)
  })

  test('sends once what it sends twice under one key', async () => {
    const { zoneId, token } = await makeShelf('Keyed sensor')
    const body = hourly('2026-03-10T08:00:00Z', 2)
    const headers = { 'idempotency-key': randomUUID() }
    const send = () => callApi(POST, { token, params: { id: zoneId }, body, headers })
    const first = await send()
    expect((await send()).body).toEqual(first.body)
  })

  test('may not read or write another workspace’s zone, nor write as a viewer', async () => {
    const { zoneId } = await makeShelf('Neighbour zone')
    const { owner, zoneId: own, token } = await makeShelf('Own zone')
    const body = hourly('2026-03-10T08:00:00Z', 1)
    expect((await post(token, zoneId, body)).status).toBe(404)
    expect((await callApi(GET, { token, params: { id: zoneId } })).status).toBe(404)
    expect((await post(await makeToken(owner, 'viewer'), own, body)).status).toBe(403)
  })

  test('racing another one in one zone leaves a day that holds the readings of both', async () => {
    const { owner, zoneId, token } = await makeShelf('Two sensors')
    const answers = await Promise.all(
      Array.from({ length: 6 }, (_, index) => post(token, zoneId, hourly(`2026-03-10T0${index}:30:00Z`, 1))),
    )
    expect(answers.map(({ status }) => status)).toEqual([201, 201, 201, 201, 201, 201])
    const [day] = await within(owner, (tx) =>
      listDaysOfReadings(tx, owner.workspaceId, { zoneId, from: '2026-01-01' }),
    )
    expect(day?.readings).toBe(6)
  })
})

describe('a reading by hand', () => {
  test('stands at the time of the clock on the wall', async () => {
    const { owner, zoneId } = await makeShelf('By hand')
    const typed = {
      zoneId,
      on: '2026-07-10',
      time: '08:30',
      temperature: 25.5,
      unit: 'celsius',
      humidityPct: 55,
    } as const
    await within(owner, (tx, workspace) => recordTypedReading(tx, { scope: owner, workspace }, typed))
    const zone = await within(owner, (tx) => requireZone(tx, owner.workspaceId, zoneId))
    expect(new Date(zone.lastReading?.at ?? '').toISOString()).toBe('2026-07-10T06:30:00.000Z')
  })

  test('in the wrong unit is asked about at its field', async () => {
    const { owner, zoneId } = await makeShelf('Wrong unit')
    const typed = { zoneId, on: '2026-07-10', time: '08:30', temperature: 78, unit: 'celsius' } as const
    const attempt = within(owner, (tx, workspace) =>
      recordTypedReading(tx, { scope: owner, workspace }, typed),
    )
    await expect(attempt).rejects.toMatchObject({
      code: 'invalid',
      fields: [
        {
          path: 'temperature',
          message:
            '78 °C? Read in °F it would be 25.6 °C. Choose the unit it was read in, or say that it stands.',
        },
      ],
    })
  })
})

describe('a figure that would fit better in the other unit', () => {
  const ON = { on: '2026-07-10', time: '08:30' }
  const lastC = async (owner: Awaited<ReturnType<typeof makeShelf>>['owner'], zoneId: string) =>
    (await within(owner, (tx) => requireZone(tx, owner.workspaceId, zoneId))).lastReading?.temperatureC

  test('is taken once somebody has said that it stands: typed, pasted and from a sensor', async () => {
    const { owner, zoneId, token } = await makeShelf('A broken thermostat')
    const type = (isSure: boolean) => {
      const typed = { zoneId, ...ON, temperature: 68, unit: 'celsius', isSure } as const
      return within(owner, (tx, workspace) => recordTypedReading(tx, { scope: owner, workspace }, typed))
    }
    await expect(type(false)).rejects.toMatchObject({ fields: [{ path: 'temperature' }] })
    expect(await lastC(owner, zoneId)).toBeUndefined()
    expect(await type(true)).toMatchObject({ added: 1 })
    expect(await lastC(owner, zoneId)).toBe(68)
    const paste = (isSure: boolean) =>
      within(owner, (tx, workspace) =>
        recordPastedReadings(
          tx,
          { scope: owner, workspace },
          { zoneId, text: '2026-07-11 08:00 67', unit: 'celsius', isSure },
        ),
      )
    await expect(paste(false)).rejects.toMatchObject({ fields: [{ path: 'unit' }] })
    expect(await paste(true)).toMatchObject({ added: 1 })
    const post = (reading: object) =>
      callApi(POST, { token, params: { id: zoneId }, body: [{ at: '2026-07-12T08:00:00Z', ...reading }] })
    const asked = await post({ temperatureC: 66 })
    expect([asked.status, asked.body.errors?.[0]?.path]).toEqual([422, '0.temperatureC'])
    expect(asked.body.errors[0].message).toMatch(/Read in °F it would be 18.9 °C. Send isSure with it/)
    expect((await post({ temperatureC: 66, isSure: true })).status).toBe(201)
    expect(await lastC(owner, zoneId)).toBe(66)
  })

  test('is not taken where no thermometer could have shown it, however sure', async () => {
    const { owner, zoneId } = await makeShelf('An oven')
    const typed = { zoneId, ...ON, temperature: 78, unit: 'celsius', isSure: true } as const
    const attempt = within(owner, (tx, workspace) =>
      recordTypedReading(tx, { scope: owner, workspace }, typed),
    )
    await expect(attempt).rejects.toMatchObject({ fields: [{ path: 'temperature' }] })
  })

  test('is not asked about where its unit stands beside it', async () => {
    const { owner, zoneId } = await makeShelf('Written out')
    const text = '2026-07-11 08:00 67 °C'
    const pasted = { zoneId, text, unit: 'fahrenheit' } as const
    await within(owner, (tx, workspace) => recordPastedReadings(tx, { scope: owner, workspace }, pasted))
    expect(await lastC(owner, zoneId)).toBe(67)
  })
})

describe('a reading in °F', () => {
  test('is kept in °C, and one that can only be °C is asked about', async () => {
    const { owner, zoneId } = await makeShelf('Fahrenheit')
    const type = (temperature: number) => {
      const typed = { zoneId, on: '2026-07-10', time: '08:30', temperature, unit: 'fahrenheit' } as const
      return within(owner, (tx, workspace) => recordTypedReading(tx, { scope: owner, workspace }, typed))
    }
    await type(78.8)
    const zone = await within(owner, (tx) => requireZone(tx, owner.workspaceId, zoneId))
    expect(zone.lastReading?.temperatureC).toBeCloseTo(26, 6)
    await expect(type(26)).rejects.toMatchObject({ code: 'invalid', fields: [{ path: 'temperature' }] })
  })
})

describe('pasted readings', () => {
  test('are saved whole, and taken back whole', async () => {
    const { owner, zoneId } = await makeShelf('Pasted')
    const keeper = await makeMember(owner, 'keeper')
    const text = '2026-03-10 08:00 24\n2026-03-10 09:00 26\n'
    await within(keeper, (tx, workspace) =>
      recordPastedReadings(tx, { scope: keeper, workspace }, { zoneId, text, unit: 'celsius' }),
    )
    const read = () =>
      within(owner, (tx) => listDaysOfReadings(tx, owner.workspaceId, { zoneId, from: '2026-01-01' }))
    expect(await read()).toMatchObject([{ readings: 2, meanC: 25 }])
    const [batch] = await within(owner, (tx) =>
      listReadingBatches(tx, owner.workspaceId, { zoneId, limit: 5 }),
    )
    expect(batch).toMatchObject({ source: 'pasted', readings: 2, recordedBy: 'A keeper' })
    const takeBack = () =>
      within(owner, (tx, workspace) => archiveReadingBatch(tx, { scope: owner, workspace }, batch?.id ?? ''))
    await takeBack()
    expect(await read()).toEqual([])
    await expect(takeBack()).rejects.toMatchObject({ code: 'already-reversed' })
    const zone = await within(owner, (tx) => requireZone(tx, owner.workspaceId, zoneId))
    expect(zone.lastReading).toBeNull()
  })

  test('in the other unit than was chosen are asked about, whichever that was', async () => {
    const { owner, zoneId } = await makeShelf('Pasted in the other unit')
    const paste = (figure: number, unit: 'celsius' | 'fahrenheit') =>
      within(owner, (tx, workspace) =>
        recordPastedReadings(
          tx,
          { scope: owner, workspace },
          { zoneId, text: `2026-03-10 08:00 ${figure}`, unit },
        ),
      )
    for (const attempt of [paste(78, 'celsius'), paste(26, 'fahrenheit')])
      await expect(attempt).rejects.toMatchObject({ code: 'invalid', fields: [{ path: 'unit' }] })
    expect(await paste(78, 'fahrenheit')).toMatchObject({ added: 1 })
  })

  test('with one bad line are not saved at all', async () => {
    const { owner, zoneId } = await makeShelf('Half pasted')
    const text = '2026-03-10 08:00 24\n2026-03-10 09:00 very warm\n'
    const attempt = within(owner, (tx, workspace) =>
      recordPastedReadings(tx, { scope: owner, workspace }, { zoneId, text, unit: 'celsius' }),
    )
    await expect(attempt).rejects.toMatchObject({ fields: [{ path: 'text' }] })
    const days = await within(owner, (tx) =>
      listDaysOfReadings(tx, owner.workspaceId, { zoneId, from: '2026-01-01' }),
    )
    expect(days).toEqual([])
  })
})
