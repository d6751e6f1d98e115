import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Permission } from '@/lib/domain/role/permissions'
import { createCalendarFeed } from '@/lib/features/calendar-feed/mutations'
import { calendarFeedAddress } from '@/lib/platform/calendar-feed'
import { inWorkspace, mintScope } from '@/lib/platform/workspace'
import { requireDatabase } from '@/tests/support/database'
import { startServer, type TestServer } from '@/tests/support/server'
import { type Ids, watchIds } from './calls/call'
import { ACTIONS, REFUSED_BY_THE_TRADE } from './matrix/actions'
import { act, ask } from './matrix/ask'
import { type Callers, findLowerRole, makeCallers } from './matrix/callers'
import { listEntryPoints } from './matrix/entry-points'
import { OPERATIONS } from './matrix/operations'
import { PAGES } from './matrix/pages'
import { describeStall, STALL_ROUTES } from './matrix/stall'
import { describeTakenBack } from './matrix/taken-back'
import { type Stock, stockWorkspace } from './stock'

const database = requireDatabase()
const entryPoints = listEntryPoints()

/** Routes that answer before anybody is known, each tried below. */
const OTHER_ROUTES = [
  '/api/auth/[...nextauth]',
  '/api/bench',
  '/api/bench/runs/[run]',
  '/api/bench/runs/[run]/standing',
  '/bench/worker.mjs',
  ...STALL_ROUTES,
  '/api/health',
  '/api/v1/calendar.ics',
  '/api/v1/import',
  '/api/v1/openapi.json',
  '/workspaces/restore/file',
  '/icon.svg',
  '/manifest.webmanifest',
  '/scanner/reader.wasm',
]

let client: pg.Client
let server: TestServer
let own: Stock
let neighbour: Stock
let ids: Ids
let callers: Callers
let slug: string

beforeAll(async () => {
  client = new pg.Client({ connectionString: database.urls.admin, options: '-c TimeZone=UTC' })
  await client.connect()
  own = await stockWorkspace(client, 'Okapi')
  neighbour = await stockWorkspace(client, 'Narwhal')
  callers = await makeCallers(client, { own, neighbour })
  server = await startServer(database)
  ids = watchIds(own).ids
  slug = String(own.rows.get('workspace')?.slug)
})
afterAll(async () => {
  await server.stop()
  await client.end()
})

const at = (rest: string) => `${server.address}${rest}`
const isPermission = (guard: string): guard is Permission => guard.includes(':')
/** Everything but the times at which somebody was last seen, and the counts of attempts. */
async function fingerprint(): Promise<string> {
  const tables = [...own.rows.keys(), 'person']
  const parts = tables.map(
    (table) =>
      `select '${table}' as name, md5(coalesce(string_agg(t::text, '' order by t::text), '')) from ${table} t`,
  )
  // Without an order the parts may come as the database's workers finish them.
  return JSON.stringify((await client.query(`${parts.join(' union all ')} order by 1`)).rows)
}

describe('the build', () => {
  it('has no page, route or action that is not tried here', () => {
    expect(entryPoints.pages.filter((page) => !PAGES[page])).toEqual([])
    const tried = [...OPERATIONS.map(({ path }) => `/api/v1${path}`), ...Object.keys(PAGES), ...OTHER_ROUTES]
    expect(entryPoints.routes.filter((route) => !tried.includes(route))).toEqual([])
    expect(entryPoints.actions.map(({ name }) => name).filter((name) => !ACTIONS[name])).toEqual([])
  })

  it('and nothing is tried here that it has not', () => {
    const had = [...entryPoints.pages, ...entryPoints.routes]
    expect(Object.keys(PAGES).filter((page) => !had.includes(page))).toEqual([])
    expect(OPERATIONS.map(({ path }) => `/api/v1${path}`).filter((route) => !had.includes(route))).toEqual([])
    expect(OTHER_ROUTES.filter((route) => !had.includes(route))).toEqual([])
  })
})

describe('reading', () => {
  let before: string
  beforeAll(async () => {
    before = await fingerprint()
  })

  describe.each(Object.entries(PAGES))('%s', (name, { guard, address }) => {
    it('is there for whom it is meant', async () => {
      const caller = guard === 'everybody' || guard === 'secret' ? callers.nobody : callers.owner
      const said = await ask(at(address(slug, ids, own)), caller)
      // A scanned label leads on to the page of its animal.
      const leadsOn = name.endsWith('/c/[code]')
        ? [307, `/w/${slug}/individuals/${ids.individual}`]
        : [200, '']
      expect([said.status, said.location]).toEqual(leadsOn)
      expect(said.text).not.toContain(neighbour.mark)
      const streamed = await ask(at(address(slug, ids, own)), caller, { headers: { rsc: '1' } })
      expect(streamed.text).not.toContain(neighbour.mark)
    })

    it('is not there for anybody else', async () => {
      if (guard === 'everybody' || guard === 'secret') return
      const page = at(address(slug, ids, own))
      for (const stranger of [callers.nobody, callers.expired]) {
        const said = await ask(page, stranger)
        expect([said.status, new URL(said.location, page).pathname]).toEqual([307, '/sign-in'])
        expect(said.text).not.toContain(own.mark)
      }
      if (!isPermission(guard)) return
      for (const stranger of [callers.neighbour, callers.removed]) {
        for (const headers of [new Headers(), new Headers({ rsc: '1' })]) {
          const said = await ask(page, stranger, { headers })
          // A stream has begun before it turns out that there is nothing to be shown.
          if (!headers.has('rsc')) expect(said.status).toBe(404)
          expect(said.text).not.toContain(own.mark)
        }
      }
      const lower = findLowerRole(guard)
      if (!lower) return
      const said = await ask(page, callers.members[lower])
      expect([lower, said.status]).toEqual([lower, 403])
    })

    it('does not show our records in a neighbour’s own workspace', async () => {
      const theirs = String(neighbour.rows.get('workspace')?.slug)
      const page = address(theirs, ids, own)
      if (!isPermission(guard)) return
      const said = await ask(at(page), callers.neighbour)
      const namesOurs = page !== address(theirs, watchIds(neighbour).ids, neighbour)
      expect([page, said.status === 307 ? 404 : said.status]).toEqual([page, namesOurs ? 404 : 200])
      expect(said.text).not.toContain(own.mark)
    })
  })

  it('changes nothing', async () => {
    for (const { method, address } of OPERATIONS)
      if (method === 'GET') await ask(at(`/api/v1${address(ids)}`), callers.owner)
    for (const page of ['/', '/sign-in', `/invitation/${'x'.repeat(43)}`]) await ask(at(page), callers.owner)
    expect(await fingerprint()).toBe(before)
  })
})

describe.each(OPERATIONS)('$method /api/v1$path', ({ method, permission, address, body, isRefused }) => {
  const send = (caller: Parameters<typeof ask>[1], named: Ids) =>
    ask(at(`/api/v1${address(named)}`), caller, {
      method,
      headers: body ? { 'content-type': 'application/json' } : {},
      body: body && JSON.stringify(body(named)),
    })

  it('wants a token that still works, of a member who still is one', async () => {
    for (const stranger of [callers.nobody, callers.removed, callers.expired])
      expect((await send({ token: stranger.token }, ids)).status).toBe(401)
    expect((await send({ cookie: callers.owner.cookie }, ids)).status).toBe(401)
  })

  it('is refused to a token of a role that may not', async () => {
    const lower = findLowerRole(permission)
    if (!lower) return
    expect([lower, (await send(callers.members[lower], ids)).status]).toEqual([lower, 403])
  })

  it('finds nothing of ours for a neighbour', async () => {
    const { ids: watched, asked } = watchIds(own)
    const said = await send(callers.neighbour, watched)
    expect(said.text).not.toContain(own.mark)
    if (asked.size > 0) expect([404, 422]).toContain(said.status)
    else expect(said.status).toBeLessThan(300)
  })

  it('works for us, and says nothing of the neighbour', async () => {
    const said = await send(callers.owner, ids)
    if (isRefused) return expect(said.status).toBe(422)
    expect([said.status === 409 ? 201 : said.status, said.text.slice(0, 300)]).toEqual([
      method === 'POST' ? 201 : 200,
      said.text.slice(0, 300),
    ])
    expect(said.text).not.toContain(neighbour.mark)
  })
})

describe.each(entryPoints.actions)('$name', ({ id, name, page }) => {
  const row = ACTIONS[name]
  const send = (caller: Parameters<typeof act>[1], workspace: string) =>
    act(server.address, caller, { id, page: fill(page), workspace, input: row?.input(ids) })

  it('answers nobody, and whoever’s time is up, that they are signed out', async () => {
    if (row?.guard === 'everybody') return
    for (const stranger of [callers.nobody, callers.expired])
      expect(await send(stranger, slug)).toMatchObject({ status: 'signed-out' })
  })

  it('is refused to a neighbour, to a member who was removed and to a lower role', async () => {
    if (!row || !isPermission(row.guard)) return
    for (const stranger of [callers.neighbour, callers.removed]) {
      const said = await send(stranger, slug)
      expect(said).toMatchObject({ status: 'refused', code: 'not-found' })
      expect(said.text).not.toContain(own.mark)
    }
    const lower = findLowerRole(row.guard)
    if (lower)
      expect(await send(callers.members[lower], slug)).toMatchObject({ status: 'refused', code: 'forbidden' })
  })

  it('does not take our records into a neighbour’s workspace', async () => {
    const { ids: watched, asked } = watchIds(own)
    row?.input(watched)
    if (asked.size === 0) return
    const said = await send(callers.neighbour, String(neighbour.rows.get('workspace')?.slug))
    expect(said.status).toBe('refused')
    expect(said.text).not.toContain(own.mark)
  })

  it('works for us', async () => {
    const said = await send(callers.owner, slug)
    expect(['failed', 'unreadable', 'signed-out']).not.toContain(said.status)
    expect(said.code).not.toBe('forbidden')
    if (!REFUSED_BY_THE_TRADE.includes(name)) expect(said.code).not.toBe('invalid')
    expect(said.text).not.toContain(neighbour.mark)
  })
})

it('no action takes a text that the database cannot keep, and it says at which field', async () => {
  const action = entryPoints.actions.find(({ name }) => name.endsWith('createZoneAction'))
  const { text } = await act(server.address, callers.owner, {
    id: String(action?.id),
    page: fill(String(action?.page)),
    workspace: slug,
    input: { name: 'Attic \u0000', setTemperatureC: 24 },
  })
  expect(text).toMatch(/"status":"refused"/)
  expect(text).toContain('Holds a character that no text can keep.')
})

/** The address of a page that offers an action; which record it shows does not matter to the action. */
function fill(page: string): string {
  return PAGES[page]?.address(slug, ids, own) ?? page
}

describeStall(() => ({ address: server.address, callers, own, neighbour }))
describeTakenBack(() => ({ address: server.address, callers, neighbour }))

describe('routes that answer before anybody is known', () => {
  it('say that the service is well, and nothing about anybody', async () => {
    for (const route of [
      '/api/health',
      '/api/v1/openapi.json',
      '/icon.svg',
      '/manifest.webmanifest',
      '/scanner/reader.wasm',
    ]) {
      const said = await ask(at(route), callers.nobody)
      expect([route, said.status]).toEqual([route, 200])
      expect(said.text).not.toMatch(/Okapi|Narwhal/)
    }
  })

  it('open a calendar by its key alone, and tell whatever is wrong with a key alike', async () => {
    const key = async (stock: Stock) => {
      const scope = mintScope({ workspaceId: stock.workspaceId, personId: stock.personId, role: 'owner' })
      return inWorkspace(scope, async (tx, workspace) => {
        const { id } = await createCalendarFeed(tx, { scope, workspace })
        return new URL(calendarFeedAddress(id)).search
      })
    }
    const [ours, theirs] = [await key(own), await key(neighbour)]
    const said = await ask(at(`/api/v1/calendar.ics${ours}`), callers.nobody)
    expect([said.status, said.text.slice(0, 15)]).toEqual([200, 'BEGIN:VCALENDAR'])
    expect(said.text).not.toContain(neighbour.mark)
    expect((await ask(at(`/api/v1/calendar.ics${theirs}`), callers.owner)).text).not.toContain(own.mark)
    const wrong = [`?key=${'x'.repeat(43)}`, '?key=', '', `${ours}x`, `${ours}&as=1`]
    const answers = []
    for (const search of wrong) answers.push(await ask(at(`/api/v1/calendar.ics${search}`), callers.owner))
    expect(answers.map(({ status }) => status)).toEqual(wrong.map(() => 404))
    expect(new Set(answers.map(({ text }) => text)).size).toBe(1)
  })

  it('tell a device only of its own person, and of a run only to whom it belongs and who may count', async () => {
    const run = `/api/bench/runs/${ids.separation}`
    const here = `?workspace=${own.workspaceId}`
    const questions = ['/api/bench', `${run}${here}`, `${run}/standing${here}`]
    for (const question of questions) {
      for (const stranger of [callers.nobody, callers.expired])
        expect([question, (await ask(at(question), stranger)).status]).toEqual([question, 401])
      const said = await ask(at(question), callers.owner)
      expect([question, said.status]).toEqual([question, 200])
      expect(said.text).not.toContain(neighbour.mark)
    }
    for (const question of questions.slice(1)) {
      for (const stranger of [callers.neighbour, callers.removed]) {
        const said = await ask(at(question), stranger)
        expect([question, said.status]).toEqual([question, 404])
        expect(said.text).not.toContain(own.mark)
      }
      // Under the neighbour's own workspace the run is not there.
      const moved = question.replace(own.workspaceId, neighbour.workspaceId)
      expect([moved, (await ask(at(moved), callers.neighbour)).status]).toEqual([moved, 404])
      expect((await ask(at(question), callers.members.counter)).status).toBe(403)
      expect((await ask(at(question.replace(ids.separation, 'no-id')), callers.owner)).status).toBe(404)
    }
    const theirs = await ask(at('/api/bench'), callers.neighbour)
    expect(theirs.text).toContain(neighbour.mark)
    expect(theirs.text).not.toContain(own.mark)
    const removed = await ask(at('/api/bench'), callers.removed)
    expect(JSON.parse(removed.text).workspaces).toEqual([])
  })

  it('give the same page of the bench to everybody: nobody’s name, no record', async () => {
    const bare = (text: string) =>
      text.replaceAll(/nonce="[^"]*"|"nonce":"[^"]*"|\\"nonce\\":\\"[^"]*\\"/g, '')
    const pages = []
    for (const caller of [callers.nobody, callers.owner, callers.neighbour]) {
      const { status, text } = await ask(at('/bench'), caller)
      expect(status).toBe(200)
      expect(text).not.toContain(own.mark)
      expect(text).not.toContain(neighbour.mark)
      expect(text).not.toMatch(/@example\.test/)
      pages.push(bare(text).length)
    }
    expect(new Set(pages).size).toBe(1)
    const worker = await ask(at('/bench/worker.mjs'), callers.nobody)
    expect(worker.status).toBe(200)
    expect(worker.text).not.toContain('__BUILD__')
  })

  it('take the taps of a device only from somebody signed in, and only into their own workspaces', async () => {
    const tap = {
      id: '0197c0de-0000-7000-8000-000000000001',
      workspaceId: own.workspaceId,
      personId: neighbour.personId,
      run: ids.separation,
      on: '2026-03-20',
      tappedAt: '2026-03-20T18:00:00Z',
      v: 1,
      kind: 'escaped',
      payload: {},
    }
    const send = (caller: Parameters<typeof ask>[1]) =>
      ask(at('/api/bench'), caller, {
        method: 'POST',
        headers: { 'content-type': 'application/json', origin: server.address },
        body: JSON.stringify({ operations: [tap] }),
      })
    for (const stranger of [callers.nobody, callers.expired]) expect((await send(stranger)).status).toBe(401)
    const before = await fingerprint()
    for (const stranger of [callers.neighbour, callers.removed]) {
      const said = await send(stranger)
      expect(said.text).toMatch(/"status":"refused"|"status":4\d\d/)
      expect(said.text).not.toContain(own.mark)
    }
    expect(await fingerprint()).toBe(before)
  })

  it('turn away what a page of another site sends', async () => {
    for (const path of ['/api/v1/zones', '/api/bench', '/sign-in']) {
      const said = await ask(at(path), callers.owner, {
        method: 'POST',
        headers: { origin: 'http://other.example' },
        body: '{}',
      })
      expect([path, said.status]).toEqual([path, 403])
    }
  })

  it('say on every answer what a browser may do with it, whether or not it came through the proxy', async () => {
    const bearer = { authorization: `Bearer ${callers.owner.token}` }
    const read = async (path: string, headers: Record<string, string> = {}) =>
      (await fetch(at(path), { headers, redirect: 'manual' })).headers
    for (const headers of [bearer, { ...bearer, origin: server.address }, {}]) {
      const said = await read('/api/v1/zones', headers)
      expect(said.get('content-security-policy')).toMatch(/^default-src 'none'/)
      expect(said.get('x-content-type-options')).toBe('nosniff')
      expect(said.get('x-frame-options')).toBe('DENY')
      expect(said.get('cross-origin-resource-policy')).toBe('same-origin')
      expect(said.get('permissions-policy')).toContain('camera=()')
      expect(said.get('cache-control')).toContain('no-store')
      expect(said.get('strict-transport-security')).toBeNull()
    }
    const encrypted = await read('/api/v1/zones', { ...bearer, 'x-forwarded-proto': 'https, http' })
    expect(encrypted.get('strict-transport-security')).toMatch(/max-age=\d+/)
    expect((await read('/api/v1/docs')).get('content-security-policy')).toMatch(/script-src 'self' 'nonce-/)
  })
})

it('and the log of all this names neither the one’s records nor the other’s', () => {
  expect(server.output()).not.toContain('Narwhal')
  expect(server.output()).not.toContain('Okapi mantids')
})
