import { describe, expect, test } from 'vitest'
import { POST as TAKE } from '@/app/api/v1/incidents/[id]/taking/route'
import { GET as LIST } from '@/app/api/v1/incidents/route'
import { POST } from '@/app/api/v1/zones/[id]/readings/route'
import { PATCH } from '@/app/api/v1/zones/[id]/watch/route'
import { GET as ZONES } from '@/app/api/v1/zones/route'
import { loadDayList } from '@/lib/features/day-sheet/data'
import { listIncidents, listPressing } from '@/lib/features/incident/data'
import { recordTaking, updateIncidents } from '@/lib/features/incident/mutations'
import { listMails } from '@/lib/features/mail/data'
import { recordWatch } from '@/lib/features/watch/mutations'
import { loadZonesById } from '@/lib/features/zone/data'
import { archiveZone, createZone } from '@/lib/features/zone/mutations'
import { WATCH_JOBS } from '@/lib/ops/watch'
import { startJobs } from '@/lib/platform/jobs'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { callApi, makeMember, makeToken, makeWorkspace, within } from '@/tests/support/workspaces'

const database = requireDatabase()

type Owner = Awaited<ReturnType<typeof makeWorkspace>>
type Shelf = { owner: Owner; zoneId: string; token: string; startMs: number }
const MINUTE_MS = 60_000

/** A shelf that has been watched for an hour. */
async function makeWatched(name: string, watch: object = {}): Promise<Shelf> {
  const owner = await makeWorkspace(name)
  const zone = { name: 'Warm shelf', setTemperatureC: 26 }
  const { id: zoneId } = await within(owner, (tx, workspace) => createZone(tx, workspace, zone))
  const token = await makeToken(owner, 'owner')
  const watchers = [owner.personId ?? '']
  await within(owner, (tx) =>
    recordWatch(tx, owner.workspaceId, {
      ...{ zoneId, version: 0, lowC: 18, highC: 30, delayMinutes: 10, watchers },
      ...watch,
    }),
  )
  const startMs = Date.now() - 60 * MINUTE_MS
  await within(owner, (tx) =>
    tx.zoneWatch.updateMany({
      where: { workspaceId: owner.workspaceId, zoneId },
      data: { sinceAt: new Date(startMs) },
    }),
  )
  return { owner, zoneId, token, startMs }
}

const post = ({ token, zoneId, startMs }: Shelf, ...reads: [minute: number, temperatureC: number][]) =>
  callApi(POST, {
    token,
    params: { id: zoneId },
    body: reads.map(([minute, temperatureC]) => ({
      at: new Date(startMs + minute * MINUTE_MS).toISOString(),
      temperatureC,
    })),
  })
const look = ({ owner, zoneId, startMs }: Shelf, minute: number) =>
  within(owner, (tx, workspace) =>
    updateIncidents(tx, workspace, { zoneId, nowMs: startMs + minute * MINUTE_MS }),
  )
const incidents = ({ owner, zoneId }: Shelf) =>
  within(owner, (tx) => listIncidents(tx, owner.workspaceId, { zoneId, limit: 50 }))
const mails = ({ owner }: Shelf) => within(owner, (tx) => listMails(tx, owner.workspaceId))

describe('a watched zone that gets too hot', () => {
  test('calls whoever is on watch at once, again until it is taken, and then no more', async () => {
    const shelf = await makeWatched('Too hot')
    await post(shelf, [0, 26], [10, 31], [20, 34.2])
    await look(shelf, 15)
    expect(await incidents(shelf)).toEqual([])
    await look(shelf, 20)
    expect(await incidents(shelf)).toMatchObject([
      { kind: 'too_hot', extremeC: 34.2, limitC: 30, endedAt: null, takenAt: null, calls: 1 },
    ])
    await look(shelf, 21)
    expect(await mails(shelf)).toHaveLength(1)
    await look(shelf, 30)
    const [mail, ...earlier] = await mails(shelf)
    expect(earlier).toHaveLength(1)
    expect(mail?.subject).toBe('Too hot: Warm shelf, up to 34.2 °C')
    const [incident] = await incidents(shelf)
    expect(mail?.text).toContain(`/incidents/${incident?.id}`)
    const take = () =>
      callApi(TAKE, { token: shelf.token, params: { id: incident?.id ?? '' }, body: { note: 'on my way' } })
    expect((await take()).status).toBe(201)
    expect((await take()).status).toBe(409)
    await look(shelf, 59)
    expect(await mails(shelf)).toHaveLength(2)
  })

  test('has one incident, however it is looked at, which ends when it is inside again', async () => {
    const shelf = await makeWatched('One incident')
    await post(shelf, [5, 31], [20, 32])
    await Promise.all(Array.from({ length: 8 }, () => look(shelf, 25)))
    await post(shelf, [30, 29])
    await look(shelf, 34)
    expect(await incidents(shelf)).toHaveLength(1)
    expect(await incidents(shelf)).toMatchObject([
      { beganAt: new Date(shelf.startMs + 5 * MINUTE_MS), endedAt: new Date(shelf.startMs + 30 * MINUTE_MS) },
    ])
    expect(await mails(shelf)).toHaveLength(1)
  })

  test('stands first on the day sheet and holds back what stands there for 48 hours', async () => {
    const shelf = await makeWatched('Day sheet')
    const { owner, zoneId } = shelf
    await post(shelf, [5, 31], [20, 32])
    await look(shelf, 25)
    const list = await within(owner, (tx, workspace) => loadDayList(tx, workspace))
    expect(list.tasks[0]).toMatchObject({ kind: 'too-hot', state: 'late', subject: { type: 'incident' } })
    const zones = await within(owner, (tx) => loadZonesById(tx, owner.workspaceId))
    expect(zones.get(zoneId)?.incidents).toMatchObject([{ kind: 'too_hot', clearOn: null }])
    await post(shelf, [30, 25])
    await look(shelf, 45)
    const after = await within(owner, (tx) => loadZonesById(tx, owner.workspaceId))
    expect(after.get(zoneId)?.incidents?.[0]?.clearOn).toMatch(/^\d{4}-/)
  })
})

describe('a watched zone that falls silent', () => {
  test('has an incident until the next reading, and is too hot rather than silent where both are', async () => {
    const shelf = await makeWatched('Silent', { silenceMinutes: 30 })
    await post(shelf, [0, 31])
    await look(shelf, 40)
    const pressing = await within(shelf.owner, (tx) => listPressing(tx, shelf.owner.workspaceId))
    expect(pressing.map(({ kind }) => kind)).toEqual(['too_hot', 'silent'])
    await post(shelf, [45, 26])
    await look(shelf, 46)
    expect((await incidents(shelf)).every(({ endedAt }) => endedAt !== null)).toBe(true)
  })
})

describe('readings that are taken back', () => {
  test('take their incident with them', async () => {
    const shelf = await makeWatched('Taken back')
    const { owner, zoneId } = shelf
    await post(shelf, [5, 31], [20, 32])
    await look(shelf, 25)
    expect(await incidents(shelf)).toHaveLength(1)
    await within(owner, (tx) =>
      tx.reading.updateMany({
        where: { workspaceId: owner.workspaceId, zoneId },
        data: { archivedAt: new Date() },
      }),
    )
    await look(shelf, 30)
    expect(await incidents(shelf)).toEqual([])
  })
})

describe('the jobs', () => {
  test('look at once when a reading arrives, with eight sensors at a time, and write one incident', async () => {
    const shelf = await makeWatched('Eight sensors', { delayMinutes: 0 })
    const jobs = await startJobs(WATCH_JOBS)
    try {
      await Promise.all(Array.from({ length: 8 }, (_, index) => post(shelf, [30 + index, 32 + index / 10])))
      for (let waited = 0; waited < 200 && (await mails(shelf)).length === 0; waited++)
        await new Promise((resolve) => setTimeout(resolve, 100))
      for (let waited = 0; waited < 200 && (await countJobs()) > 0; waited++)
        await new Promise((resolve) => setTimeout(resolve, 100))
    } finally {
      await jobs.stop()
    }
    expect(await incidents(shelf)).toMatchObject([{ kind: 'too_hot', extremeC: 32.7, calls: 1 }])
    expect(await mails(shelf)).toHaveLength(1)
  })

  test('find what is due by the clock when its job was lost', async () => {
    const shelf = await makeWatched('Lost job')
    await post(shelf, [5, 31], [20, 32])
    await withClient(database.urls.admin, (client) =>
      client.query('delete from graphile_worker._private_jobs'),
    )
    // biome-ignore lint/suspicious/noExplicitAny: the task asks nothing of the queue
    await WATCH_JOBS.tasks['watch-due']?.({}, {} as any)
    expect(await incidents(shelf)).toHaveLength(1)
  })
})

async function countJobs(): Promise<number> {
  const { rows } = await withClient(database.urls.jobs, (client) =>
    client.query(
      `select count(*)::int as count from graphile_worker._private_jobs j
       join graphile_worker._private_tasks t on t.id = j.task_id where t.identifier = 'watch-look'`,
    ),
  )
  return rows[0].count
}

describe('the watch of a zone', () => {
  test('is set over the API, whole, with its version', async () => {
    const shelf = await makeWatched('Over the API')
    const { owner, token, zoneId } = shelf
    const body = { highC: 31.5, delayMinutes: 15, silenceMinutes: 60, watchers: [owner.personId] }
    const patch = (headers: Record<string, string>) =>
      callApi(PATCH, { token, params: { id: zoneId }, body, headers, method: 'PATCH' })
    expect((await patch({ 'if-match': '"7"' })).status).toBe(409)
    const answer = await patch({ 'if-match': '"1"' })
    expect(answer.body.watch).toEqual({ ...body, lowC: null, version: 2 })
    const zones = await callApi(ZONES, { token })
    expect(zones.body.items[0].watch).toEqual(answer.body.watch)
  })

  test.each([
    ['limits the wrong way round', { lowC: 30, highC: 20 }],
    ['nobody to call', { watchers: [] }],
    ['minutes that are none', { delayMinutes: -1 }],
    ['a silence of a moment', { silenceMinutes: 1 }],
  ])('refuses %s', async (_what, wrong) => {
    const { owner, token, zoneId } = await makeWatched('Refused watch')
    const body = { highC: 31, delayMinutes: 10, watchers: [owner.personId], ...wrong }
    expect((await callApi(PATCH, { token, params: { id: zoneId }, body, method: 'PATCH' })).status).toBe(422)
  })

  test('calls nobody who may not look after it, and nobody of another workspace', async () => {
    const { owner, token, zoneId } = await makeWatched('Strangers')
    const viewer = await makeMember(owner, 'viewer')
    const stranger = await makeWorkspace('Somewhere else')
    for (const { personId } of [viewer, stranger]) {
      const body = { highC: 31, delayMinutes: 10, watchers: [personId] }
      const answer = await callApi(PATCH, { token, params: { id: zoneId }, body, method: 'PATCH' })
      expect(answer.status).toBe(404)
    }
  })

  test('ends with the zone, and so does what was going on there', async () => {
    const shelf = await makeWatched('Out of use')
    const { owner, zoneId } = shelf
    await post(shelf, [5, 31], [20, 32])
    await look(shelf, 25)
    await within(owner, (tx) => archiveZone(tx, owner.workspaceId, { id: zoneId, version: 1 }))
    await look(shelf, 50)
    expect(await incidents(shelf)).toMatchObject([{ callDueAt: null }])
    expect((await incidents(shelf))[0]?.endedAt).not.toBeNull()
    expect(await mails(shelf)).toHaveLength(1)
  })

  test('can be ended, and then nothing is looked for', async () => {
    const shelf = await makeWatched('Ended')
    const { owner, zoneId } = shelf
    await within(owner, (tx) =>
      recordWatch(tx, owner.workspaceId, { zoneId, version: 1, delayMinutes: 10, watchers: [] }),
    )
    await post(shelf, [5, 40], [50, 41])
    await look(shelf, 55)
    expect(await incidents(shelf)).toEqual([])
    const [due] = await within(owner, (tx) =>
      tx.watchLook.findMany({ where: { workspaceId: owner.workspaceId } }),
    )
    expect(due?.dueAt).toBeNull()
  })
})

test('the incidents of a workspace are listed, open or over, and taken by one', async () => {
  const shelf = await makeWatched('Listed')
  const { owner, token } = shelf
  await post(shelf, [5, 31], [20, 32])
  await look(shelf, 25)
  const open = await callApi(LIST, { token, query: '?open=true' })
  expect(open.body.items).toMatchObject([{ kind: 'too_hot', until: null, noDispatchUntil: null }])
  expect((await callApi(LIST, { token, query: '?open=false' })).body.items).toEqual([])
  const keeper = await makeMember(owner, 'keeper')
  const id = open.body.items[0].id
  const attempts = await Promise.allSettled(
    [owner, keeper].map((scope) =>
      within(scope, (tx, workspace) => recordTaking(tx, { scope, workspace }, { id })),
    ),
  )
  expect(attempts.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected'])
})
