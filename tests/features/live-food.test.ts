import { describe, expect, test } from 'vitest'
import { POST as POST_DISCARD } from '@/app/api/v1/cultures/[id]/discards/route'
import { POST as POST_HARVEST } from '@/app/api/v1/cultures/[id]/harvests/route'
import { POST as POST_MARK } from '@/app/api/v1/cultures/[id]/marks/route'
import { GET as GET_CULTURES, POST as POST_CULTURES } from '@/app/api/v1/cultures/route'
import { PATCH as PATCH_PREY } from '@/app/api/v1/prey/[id]/route'
import { GET as GET_PREY } from '@/app/api/v1/prey/route'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { DEFAULT_PREY_LINES } from '@/lib/domain/prey/default-lines'
import { listCultures } from '@/lib/features/culture/data'
import { recordDiscards, recordMark } from '@/lib/features/culture/mutations'
import { loadFoodRoom, stockByLine } from '@/lib/features/food-room/data'
import { listPreyLines, requirePreyLine } from '@/lib/features/prey/data'
import {
  createPreyLine,
  createPreyOrder,
  recordPreyCount,
  recordPreyDeparture,
  updatePreyFigure,
  updatePreyOrder,
} from '@/lib/features/prey/mutations'
import { todayIn } from '@/lib/platform/plain-date'
import { requireDatabase } from '@/tests/support/database'
import { makeShelf } from '@/tests/support/fly-shelf'
import { callApi, makeToken, makeWorkspace, within } from '@/tests/support/workspaces'

requireDatabase()

const today = todayIn('Europe/Berlin')
const ago = (days: number): PlainDate => addDays(today, -days)

describe('a prey line', () => {
  test('is there without anybody having made it, and keeps its own figures in versions', async () => {
    const owner = await makeWorkspace('Own figures')
    const change = (value: number, version: number) =>
      within(owner, (tx) =>
        updatePreyFigure(tx, owner.workspaceId, {
          line: 'hydei',
          version,
          path: 'supply.yield.mean',
          value,
          note: 'weighed all spring',
        }),
      )
    await change(280, 0)
    await change(300, 1)
    await expect(change(320, 1)).rejects.toMatchObject({ code: 'stale' })
    await expect(change(-1, 2)).rejects.toMatchObject({ fields: [{ path: 'value' }] })
    const { line, number } = await within(owner, (tx) => requirePreyLine(tx, owner.workspaceId, 'hydei'))
    expect(number).toBe(2)
    expect(line.supply).toMatchObject({
      yield: { value: { mean: 300, cv: 0.35 }, source: { kind: 'own', note: 'weighed all spring' } },
      starters: { source: { kind: 'default' } },
    })
  })

  test('of two changed at once, one is told', async () => {
    const owner = await makeWorkspace('Two at a figure')
    const change = (value: number) =>
      within(owner, (tx) =>
        updatePreyFigure(tx, owner.workspaceId, {
          line: 'hydei',
          version: 0,
          path: 'supply.yield.mean',
          value,
          note: '',
        }),
      )
    const answers = await Promise.allSettled([change(200), change(210)])
    expect(answers.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected'])
  })

  test('of one’s own begins with the figures of another', async () => {
    const owner = await makeWorkspace('Own line')
    const made = await within(owner, (tx) =>
      createPreyLine(tx, owner.workspaceId, { name: 'Bean weevil', like: 'hydei' }),
    )
    expect(made.slug).toBe('bean-weevil')
    const lines = await within(owner, (tx) => listPreyLines(tx, owner.workspaceId))
    expect(lines.at(-1)).toMatchObject({ isOwn: true, kept: true, line: { name: 'Bean weevil' } })
    await expect(
      within(owner, (tx) => createPreyLine(tx, owner.workspaceId, { name: 'bean weevil', like: 'hydei' })),
    ).rejects.toMatchObject({ code: 'name-taken' })
  })

  test('shows its costs only to those who may see them', async () => {
    const owner = await makeWorkspace('Costs')
    const asked = async (role: 'keeper' | 'counter' | 'viewer') => {
      const { status, body } = await callApi(GET_PREY, { token: await makeToken(owner, role) })
      expect(status).toBe(200)
      return body.items
        .flatMap((line: { values: { unit: string }[] }) => line.values)
        .filter(({ unit }: { unit: string }) => unit === 'minor').length
    }
    expect(await asked('keeper')).toBeGreaterThan(10)
    expect(await asked('counter')).toBe(0)
    expect(await asked('viewer')).toBe(0)
  })
})

describe('a jar', () => {
  test('counts both of two harvests taken at once', async () => {
    const { start, harvest, owner } = await makeShelf('Two harvests')
    const { value } = await start({ startedOn: ago(20) })
    const jar = value[0]!
    await Promise.all([harvest(jar, ago(1), 80), harvest(jar, ago(1), 60)])
    const [row] = await within(owner, (tx) => listCultures(tx, owner.workspaceId, { ids: [jar] }))
    expect(row?.harvests.map(({ count }) => count).sort()).toEqual([60, 80])
  })

  test('is discarded once, and gives nothing afterwards', async () => {
    const { start, harvest, discard } = await makeShelf('Two discards')
    const { value } = await start({ startedOn: ago(40) })
    const jar = value[0]!
    const answers = await Promise.allSettled([discard(jar, ago(2)), discard(jar, ago(2))])
    expect(answers.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected'])
    await expect(discard(jar, ago(1), 'sold')).rejects.toMatchObject({ code: 'already-gone' })
    await expect(harvest(jar, ago(1), 5)).rejects.toMatchObject({ code: 'already-gone' })
    await harvest(jar, ago(3), 5)
  })

  test('goes with the others whose time is over in one go, and one that has gone before stops nobody', async () => {
    const { owner, start, discard } = await makeShelf('Clearing')
    const { value: ids } = await start({ startedOn: ago(40), count: 3 })
    await discard(ids[0]!, ago(1))
    const clear = () =>
      within(owner, (tx, workspace) => recordDiscards(tx, workspace, { cultures: [...ids].reverse() }))
    const answers = await Promise.all([clear(), clear()])
    expect(answers.map(({ value }) => value.discarded).sort()).toEqual([0, 2])
    expect(answers.flatMap(({ warnings }) => warnings.map(({ message }) => message)).sort()).toEqual([
      '1 jar had left the shelf before.',
      '3 jars had left the shelf before.',
    ])
    const standing = await within(owner, (tx) =>
      listCultures(tx, owner.workspaceId, { line: 'melanogaster', state: 'standing' }),
    )
    expect(standing).toEqual([])
  })

  test('cannot be started tomorrow, harvested before its start or discarded before its last harvest', async () => {
    const { start, harvest, discard } = await makeShelf('Wrong days')
    await expect(start({ startedOn: addDays(today, 1) })).rejects.toMatchObject({
      fields: [{ path: 'startedOn' }],
    })
    const { value } = await start({ startedOn: ago(20) })
    await expect(harvest(value[0]!, ago(21), 5)).rejects.toMatchObject({ fields: [{ path: 'on' }] })
    await harvest(value[0]!, ago(2), 5)
    await expect(discard(value[0]!, ago(3))).rejects.toMatchObject({ fields: [{ path: 'on' }] })
    await expect(start({ startedOn: ago(2), line: 'blue-bottle' })).rejects.toMatchObject({
      fields: [{ path: 'line' }],
    })
  })

  test('sold leaves the supply', async () => {
    const { start, discard, shelf } = await makeShelf('Sold jar')
    const { value } = await start({ startedOn: ago(12), count: 2 })
    const before = (await shelf()).standing.reduce((sum, { outlook }) => sum + outlook.left, 0)
    await discard(value[0]!, today, 'sold')
    const after = (await shelf()).standing.reduce((sum, { outlook }) => sum + outlook.left, 0)
    expect(after / before).toBeCloseTo(0.5, 2)
  })
})

describe('mites in one jar', () => {
  test('put its shelf and its daughters under suspicion, discount them, and warn of starters', async () => {
    const { owner, start, shelf } = await makeShelf('Mites')
    const [marked = ''] = (await start({ startedOn: ago(25) })).value
    const [neighbour = ''] = (await start({ startedOn: ago(11) })).value
    const [daughter = ''] = (await start({ startedOn: ago(10), shelf: 'low', startersFrom: marked })).value
    const [clean = ''] = (await start({ startedOn: ago(10), shelf: 'low' })).value
    const leftOf = async (id: string) =>
      (await shelf()).standing.find(({ jar }) => jar.id === id)?.outlook.left ?? 0
    const before = await leftOf(neighbour)
    const marking = await within(owner, (tx, workspace) =>
      recordMark(tx, workspace, { culture: marked, mark: 'mites', on: today, isTakenBack: false }),
    )
    expect(marking.value.suspects).toHaveLength(3)
    const { suspicions } = await shelf()
    expect([...suspicions.keys()].sort()).toEqual([marked, neighbour, daughter].sort())
    expect(suspicions.get(neighbour)?.until).toBe(addDays(today, 30))
    expect((await leftOf(neighbour)) / before).toBeCloseTo(0.6, 5)
    const warned = await start({ startedOn: today, startersFrom: neighbour })
    expect(warned.warnings.map(({ code }) => code)).toEqual(['suspect-starters'])
    expect((await start({ startedOn: today, shelf: 'low', startersFrom: clean })).warnings).toEqual([])
    await within(owner, (tx, workspace) =>
      recordMark(tx, workspace, { culture: marked, mark: 'mites', on: today, isTakenBack: true }),
    )
    expect((await shelf()).suspicions.size).toBe(0)
  })
})

describe('what a line does here', () => {
  test('is learned from its finished jars in the zone they stood in', async () => {
    const { start, harvest, discard, shelf } = await makeShelf('Learning')
    for (let jar = 0; jar < 6; jar += 1) {
      const { value } = await start({ startedOn: ago(60 + jar) })
      for (let day = 0; day < 12; day += 1) await harvest(value[0]!, ago(60 + jar - 12 - 2 * day), 30)
      await discard(value[0]!, ago(60 + jar - 38))
    }
    const [learned] = (await shelf()).learned
    expect(learned?.learned.cultures).toBe(6)
    expect(learned?.learned.mean).toBeGreaterThan(360)
    expect(learned?.learned.mean).toBeLessThan(560)
  })
})

describe('what is bought', () => {
  test('stands in stock from the day it arrived, less what died, was eaten or sold', async () => {
    const owner = await makeWorkspace('Bought')
    const actor = <T>(work: (...of: Parameters<Parameters<typeof within<T>>[1]>) => Promise<T>) =>
      within(owner, work)
    const order = await actor((tx, workspace) =>
      createPreyOrder(tx, { scope: owner, workspace }, { line: 'roach-small', packs: 2, orderedOn: ago(5) }),
    )
    expect(order.value.dueOn).toBe(ago(2))
    const arrive = () =>
      within(owner, (tx, workspace) =>
        updatePreyOrder(tx, workspace, { order: order.value.id, version: 1, as: 'arrived', on: ago(2) }),
      )
    const answers = await Promise.allSettled([arrive(), arrive()])
    expect(answers.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected'])
    await within(owner, (tx, workspace) =>
      recordPreyDeparture(tx, workspace, { line: 'roach-small', on: ago(1), count: 20, how: 'sold' }),
    )
    const stock = async () =>
      within(owner, async (tx) => {
        const room = await loadFoodRoom(tx, owner.workspaceId, { today })
        return stockByLine(room, DEFAULT_PREY_LINES, today).get('roach-small')
      })
    expect(await stock()).toBeGreaterThan(170)
    expect(await stock()).toBeLessThan(180)
    await within(owner, (tx, workspace) =>
      recordPreyCount(tx, { scope: owner, workspace }, { line: 'roach-small', on: today, count: 150 }),
    )
    expect(await stock()).toBe(150)
  })
})

describe('over the API', () => {
  test('jars are started, harvested, marked, sold and listed', async () => {
    const { owner, zone } = await makeShelf('Jars over the wire')
    const token = await makeToken(owner, 'keeper')
    const started = await callApi(POST_CULTURES, {
      token,
      body: { line: 'hydei', startedOn: ago(22), count: 2, bought: true },
    })
    expect(started).toMatchObject({ status: 201, body: { warnings: [] } })
    const [jar, other] = started.body.cultures
    expect(jar).toMatchObject({ line: 'hydei', zone, label: 'J-1', bought: true, isSuspect: false })
    expect(jar.expectedLeft).toBeGreaterThan(200)
    const params = { id: jar.id }
    const harvested = await callApi(POST_HARVEST, { token, params, body: { on: today, count: 80, low: 60 } })
    expect(harvested.body.culture.harvests).toMatchObject([{ count: 80, low: 60, measure: 'about' }])
    const marked = await callApi(POST_MARK, { token, params, body: { mark: 'mites', on: today } })
    expect(marked.body.culture).toMatchObject({ mitesOn: today, isSuspect: true })
    const sold = await callApi(POST_DISCARD, {
      token,
      params: { id: other.id },
      body: { on: today, as: 'sold' },
    })
    expect(sold).toMatchObject({ status: 201, body: { warnings: [{ code: 'suspect-sold' }] } })
    const again = await callApi(POST_DISCARD, { token, params: { id: other.id }, body: { on: today } })
    expect(again.status).toBe(409)
    const listed = await callApi(GET_CULTURES, { token, query: '?state=standing' })
    expect(listed.body.items.map(({ label }: { label: string }) => label)).toEqual(['J-1'])
  })

  test('a figure of a line is replaced, against the version that was seen', async () => {
    const owner = await makeWorkspace('Figures over the wire')
    const token = await makeToken(owner, 'owner')
    const change = (body: object, ifMatch?: number) =>
      callApi(PATCH_PREY, {
        token,
        method: 'PATCH',
        params: { id: 'house-fly' },
        body,
        ...(ifMatch === undefined ? {} : { headers: { 'if-match': String(ifMatch) } }),
      })
    const days = await change({ path: 'supply.orderWeekdays', value: [2], note: 'packs on Tuesdays' }, 0)
    expect(days).toMatchObject({ status: 200, body: { id: 'house-fly', version: 1 } })
    const told = days.body.values.find(({ path }: { path: string }) => path === 'supply.orderWeekdays')
    expect(told).toMatchObject({ value: [2], source: { kind: 'own', note: 'packs on Tuesdays' } })
    expect(await change({ path: 'supply.leadDays', value: 4 }, 0)).toMatchObject({ status: 409 })
    expect(await change({ path: 'supply.packSize', value: 0 })).toMatchObject({
      status: 422,
      body: { errors: [{ path: 'value' }] },
    })
    expect((await change({ path: 'supply.colour', value: 3 })).status).toBe(422)
  })

  test('wrong words are refused at their place, and by role', async () => {
    const { owner, start } = await makeShelf('Wrong words')
    const [jar = ''] = (await start({ startedOn: ago(20) })).value
    const token = await makeToken(owner, 'keeper')
    const send = (body: unknown) => callApi(POST_HARVEST, { token, params: { id: jar }, body })
    expect((await send({ on: today, count: -3 })).body.errors).toMatchObject([{ path: 'count' }])
    expect((await send({ on: today, count: 3, low: 9 })).body.errors).toMatchObject([{ path: 'low' }])
    expect((await send({ on: addDays(today, 1), count: 3 })).body.errors).toMatchObject([{ path: 'on' }])
    expect((await send({ on: today, count: 3, colour: 'red' })).status).toBe(422)
    const viewer = await makeToken(owner, 'viewer')
    const refused = await callApi(POST_HARVEST, {
      token: viewer,
      params: { id: jar },
      body: { on: today, count: 3 },
    })
    expect(refused.status).toBe(403)
  })
})
