import { createHash } from 'node:crypto'
import { createWriteStream, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { finished } from 'node:stream/promises'
import type pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { GET } from '@/app/api/v1/export/route'
import { POST } from '@/app/api/v1/import/route'
import { createCareSheets } from '@/lib/features/care-sheet/mutations'
import { takeWorkspaceCopy } from '@/lib/features/workspace-copy/data'
import { restoreWorkspaceCopy } from '@/lib/features/workspace-copy/mutations'
import { CHANGED, ONLY_TOLD, type Restorer } from '@/lib/features/workspace-copy/schema'
import { mintScope, type Scope } from '@/lib/platform/workspace'
import { seedDemo } from '@/prisma/seed/demo'
import { stockWorkspace } from '@/tests/isolation/stock'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { listNames, repack, unpack } from '@/tests/support/workspace-file'
import { callApi, makePerson, makeToken, within } from '@/tests/support/workspaces'

const database = requireDatabase()
const folder = mkdtempSync(path.join(os.tmpdir(), 'oothecary-copy-'))
const whole = path.join(folder, 'whole.zip')
const RENAMED = [...CHANGED, 'care_sheet']
const small = path.join(folder, 'small.zip')
const SOURCE = 'larch-lane-mantids'

let owner: Scope
let restorer: Restorer
let copy: { workspaceId: string; slug: string }

const ask = <T extends pg.QueryResultRow>(sql: string, values: unknown[] = []): Promise<T[]> =>
  withClient(database.urls.admin, async (client) => (await client.query<T>(sql, values)).rows)

async function scopeOf(slug: string): Promise<Scope> {
  const [row] = await ask<{ workspaceId: string; personId: string }>(
    `select w.workspace_id as "workspaceId", m.person_id as "personId" from workspace w
     join membership m using (workspace_id) where w.slug = $1 and m.role = 'owner' and m.ended_at is null`,
    [slug],
  )
  return mintScope({ workspaceId: String(row?.workspaceId), personId: String(row?.personId), role: 'owner' })
}

/** Opens the public page of one animal that is at home, and says which. */
async function printSheet(scope: Scope, individual?: string): Promise<string> {
  const [row] = await ask<{ id: string }>(
    `select id from individual where workspace_id = $1 and whereabouts = 'single' order by id limit 1`,
    [scope.workspaceId],
  )
  const id = individual ?? String(row?.id)
  await within(scope, (tx, workspace) => createCareSheets(tx, { scope, workspace }, { individuals: [id] }))
  return id
}

async function write(scope: Scope, to: string): Promise<string> {
  const out = createWriteStream(to)
  await within(scope, (_tx, workspace) => takeWorkspaceCopy(workspace, out))
  await finished(out)
  return to
}

const restore = (file: string, slug: string) =>
  restoreWorkspaceCopy({ path: file, place: { name: 'The second rack', slug }, person: restorer })

/** Every table's rows without what names the workspace, as one fingerprint a table. */
async function measure(workspaceId: string): Promise<Record<string, string>> {
  const tables = await ask<{ name: string }>(
    `select c.relname as name from pg_class c join pg_attribute a on a.attrelid = c.oid
     where c.relkind = 'r' and c.relnamespace = 'public'::regnamespace and a.attname = 'workspace_id'`,
  )
  const parts = tables.map(
    ({
      name,
    }) => `select '${name}' as name, count(*) || ' ' || coalesce(md5(string_agg(line, '' order by line)), '') as sum
      from (select (to_jsonb(t) - 'workspace_id')::text as line from ${name} t where workspace_id = '${workspaceId}') l`,
  )
  const rows = await ask<{ name: string; sum: string }>(parts.join(' union all '))
  return Object.fromEntries(rows.map(({ name, sum }) => [name, sum]))
}

const countWorkspaces = async () => (await ask('select workspace_id from workspace')).length

beforeAll(async () => {
  await seedDemo({ anchorOn: '2026-05-01', seed: 7 })
  owner = await scopeOf(SOURCE)
  restorer = await makePerson('Rosa Rueda')
  await printSheet(owner)
  await write(owner, whole)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('everything of a workspace in one file', () => {
  it('is its own records and nobody else’s, with a fingerprint of every table', async () => {
    const names = listNames(whole)
    const files = await unpack(whole, names)
    const manifest = JSON.parse(files.get('manifest.json') ?? '')
    for (const { name, sha256, rows } of manifest.tables) {
      const text = files.get(`records/${name}.ndjson`) ?? ''
      expect([name, createHash('sha256').update(text).digest('hex')]).toEqual([name, sha256])
      expect(text.split('\n').length - 1).toBe(rows)
    }
    const told = manifest.tables.map(({ name }: { name: string }) => name)
    const present = Object.keys(await measure(owner.workspaceId))
    expect(present.filter((name) => !told.includes(name))).toEqual(['operation'])
    const neighbour = await scopeOf('the-glass-fern')
    const all = [...files.values()].join('\n')
    const found = [neighbour.workspaceId, 'The Glass Fern', 'token_hash', 'password_hash'].filter((word) =>
      all.includes(word),
    )
    expect(found).toEqual([])
  })

  it('is for the owner alone', async () => {
    for (const [role, status] of [
      ['owner', 200],
      ['keeper', 403],
      ['counter', 403],
    ] as const) {
      const headers = { authorization: `Bearer ${await makeToken(owner, role)}` }
      const answer = await GET(new Request('http://127.0.0.1/api/v1/export', { headers }), {
        params: Promise.resolve(undefined),
      })
      expect([role, answer.status]).toEqual([role, status])
      await answer.arrayBuffer()
    }
  })
})

describe('a workspace that is taken back from its file', () => {
  let before: Record<string, string>
  let neighbour: Record<string, string>
  beforeAll(async () => {
    before = await measure(owner.workspaceId)
    neighbour = await measure((await scopeOf('the-glass-fern')).workspaceId)
    const told = await restore(whole, 'second-rack')
    expect(told.workspace).toBe('second-rack')
    copy = { ...(await scopeOf('second-rack')), slug: 'second-rack' }
  })

  it('has the same rows in every table, although the first one stands beside it', async () => {
    const after = await measure(copy.workspaceId)
    const compared = Object.keys(before).filter((name) => !RENAMED.includes(name))
    const kept = compared.filter(
      (name) => !ONLY_TOLD[name] && !/^(operation|invitation|api_token)$/.test(name),
    )
    expect(kept.length).toBeGreaterThan(30)
    for (const name of kept) expect([name, after[name]]).toEqual([name, before[name]])
    for (const name of ['care_sheet', 'public_link'])
      expect(after[name]?.split(' ')[0]).toBe(before[name]?.split(' ')[0])
  })

  it('leaves the first one and its neighbour as they were', async () => {
    expect(await measure(owner.workspaceId)).toEqual(before)
    expect(await measure((await scopeOf('the-glass-fern')).workspaceId)).toEqual(neighbour)
  })

  it('has counts that its own ledger made', async () => {
    const sums = await ask(
      `select h.clutch_id from head_count h where h.workspace_id = $1 and (h.hatched, h.together, h.single) <>
         (select sum(case when e."from" = 'uncounted' then e.count when e."to" = 'uncounted' then -e.count else 0 end),
                 sum(app.change_of('together', e)), sum(app.change_of('single', e))
          from head_count_entry e where e.workspace_id = h.workspace_id and e.clutch_id = h.clutch_id)`,
      [copy.workspaceId],
    )
    expect(sums).toEqual([])
    const counted = await ask<{ animals: number }>(
      'select sum(hatched)::int as animals from head_count where workspace_id = $1',
      [copy.workspaceId],
    )
    expect(counted[0]?.animals).toBeGreaterThan(100)
  })

  it('belongs to who took it back, and lets nobody else in', async () => {
    const members = await ask<{ personId: string; role: string }>(
      `select person_id as "personId", role from membership where workspace_id = $1 and ended_at is null`,
      [copy.workspaceId],
    )
    expect(members).toEqual([{ personId: restorer.personId, role: 'owner' }])
    const doors = await ask<{ count: number }>(
      `select (select count(*) from api_token where workspace_id = $1)::int
            + (select count(*) from invitation where workspace_id = $1)::int as count`,
      [copy.workspaceId],
    )
    expect(doors[0]?.count).toBe(0)
  })

  it('says in its trail who took it back', async () => {
    const by = await ask<{ person: string; rows: number }>(
      `select person_id as person, count(*)::int as rows from audit_entry
       where workspace_id = $1 and table_name = 'individual' group by 1`,
      [copy.workspaceId],
    )
    expect(by.map(({ person }) => person)).toEqual([restorer.personId])
  })

  it('prints sheets with codes of its own: the first one’s stay the first one’s', async () => {
    const individual = await printSheet(mintScope({ ...copy, personId: restorer.personId, role: 'owner' }))
    const hashes = await ask(
      `select token_hash from public_link where individual_id = $1 group by 1 having count(*) = 1`,
      [individual],
    )
    expect(hashes).toHaveLength(2)
  })

  it('goes into a file again that says the same', async () => {
    const again = await write(
      mintScope({ ...copy, personId: null, role: 'owner' }),
      path.join(folder, 'again.zip'),
    )
    const [first, second] = await Promise.all(
      [whole, again].map(async (file) =>
        JSON.parse((await unpack(file, ['manifest.json'])).get('manifest.json') ?? ''),
      ),
    )
    const sums = (manifest: { tables: { name: string; sha256: string; onlyTold: string | null }[] }) =>
      Object.fromEntries(
        manifest.tables
          .filter(({ name, onlyTold }) => onlyTold === null && !RENAMED.includes(name))
          .map(({ name, sha256 }) => [name, sha256]),
      )
    expect(sums(second)).toEqual(sums(first))
  })
})

describe('a workspace with a row in every table', () => {
  it('comes back with a row in every table that is put back', async () => {
    const stock = await withClient(database.urls.admin, (client) => stockWorkspace(client, 'Quagga'))
    const { workspaceId } = stock
    const file = await write(
      mintScope({ workspaceId, personId: stock.personId, role: 'owner' }),
      path.join(folder, 'q.zip'),
    )
    await restore(file, 'quagga-again')
    const [from, to] = [
      await measure(workspaceId),
      await measure((await scopeOf('quagga-again')).workspaceId),
    ]
    const empty = Object.keys(from).filter((name) => to[name]?.startsWith('0 '))
    const told = [
      'api_token',
      'calendar_feed',
      'day_mail',
      'invitation',
      'mail_message',
      'operation',
      'zone_watcher',
    ]
    expect(empty.filter((name) => !told.includes(name))).toEqual([])
  })
})

describe('a file that cannot be taken back', () => {
  beforeAll(async () => void (await write(await scopeOf('the-glass-fern'), small)))

  const changed = (name: string, change: (name: string, text: string) => string) =>
    repack({ from: small, to: path.join(folder, name) }, change)

  async function refused(file: string, words: RegExp, slug = 'third-rack'): Promise<void> {
    const before = await countWorkspaces()
    await expect(restore(file, slug)).rejects.toMatchObject({ message: expect.stringMatching(words) })
    expect(await countWorkspaces()).toBe(before)
  }

  it('is one that stands where another workspace stands', () => refused(small, /another address/, SOURCE))

  it('is no zip, half a zip, or one with a byte that has turned', async () => {
    const bytes = readFileSync(small)
    const put = (name: string, content: Buffer) => {
      writeFileSync(path.join(folder, name), content)
      return path.join(folder, name)
    }
    await refused(put('none.zip', Buffer.from('moults\n'.repeat(20))), /no zip/)
    await refused(put('empty.zip', Buffer.alloc(0)), /no zip/)
    await refused(put('half.zip', bytes.subarray(0, bytes.length / 2)), /no zip/)
    const turned = Buffer.from(bytes)
    const at = turned.indexOf('records/individual.ndjson') + 400
    turned[at] = (turned[at] ?? 0) ^ 0xff
    await refused(put('turned.zip', turned), /damaged/)
  })

  it('is one of another kind, or of a newer version', async () => {
    const other = await changed('other.zip', (name, text) =>
      name === 'manifest.json' ? '{"format":"x"}' : text,
    )
    await refused(other, /not what an export writes/)
    const newer = await changed('newer.zip', (name, text) =>
      name === 'manifest.json' ? text.replace(/"migration": "\d+/, '"migration": "2999') : text,
    )
    await refused(newer, /newer version/)
  })

  it('is one in which a row was changed, taken out or put in, however well it is packed', async () => {
    const edit = (table: string, change: (lines: string[]) => string[]) =>
      changed(`${table}.zip`, (name, text) =>
        name === `records/${table}.ndjson` ? `${change(text.trimEnd().split('\n')).join('\n')}\n` : text,
      )
    await refused(
      await edit('zone', (lines) => lines.map((line) => line.replace('"name": "', '"name": "X'))),
      /zone/,
    )
    await refused(await edit('moult', (lines) => lines.slice(1)), /moult is not what was written/)
    const noKey = (line: string) => line.replace('{', `{"workspace_id": "${owner.workspaceId}", `)
    await refused(await edit('species', (lines) => lines.map(noKey)), /not a row of that table/)
    await refused(await edit('feeding', (lines) => ['[]', ...lines]), /not a row of that table/)
    await refused(await edit('housing', (lines) => ['{}],[{}', ...lines]), /not a row of that table/)
    const sold = (lines: string[]) => lines.map((line) => line.replace(/"count": \d+/, '"count": 0'))
    await refused(await edit('head_count_entry', sold), /do not add up/)
    const wrong = (lines: string[]) => lines.map((line) => line.replace(/"on": "[^"]+"/, '"on": "one day"'))
    await refused(await edit('sale', wrong), /sale cannot be a record here/)
    const nowhere = (lines: string[]) =>
      lines.map((line) => line.replace(/"time_zone": "[^"]+"/, '"time_zone": "No/Where"'))
    await refused(await edit('workspace', nowhere), /time zone/)
  })

  it('is one that unpacks to more than it says', async () => {
    const bytes = readFileSync(small)
    const directory = bytes.lastIndexOf('records/zone.ndjson')
    bytes.writeUInt32LE(3, directory - 46 + 24)
    writeFileSync(path.join(folder, 'longer.zip'), bytes)
    await refused(path.join(folder, 'longer.zip'), /damaged/)
  })
})

describe('taking it back through the API', () => {
  it('makes a workspace of the token’s person, refuses the second one at that address and a file that is none', async () => {
    const token = await makeToken(owner, 'owner')
    const send = (query: string, body: string | Buffer) =>
      POST(
        new Request(`http://127.0.0.1/api/v1/import?${query}`, {
          method: 'POST',
          headers: { authorization: `Bearer ${token}` },
          body: typeof body === 'string' ? body : new Uint8Array(body),
        }),
        { params: Promise.resolve(undefined) },
      )
    const made = await send('name=Third+rack&slug=by-token', readFileSync(small))
    expect(made.status).toBe(201)
    expect(await made.json()).toMatchObject({ workspace: 'by-token', name: 'Third rack' })
    expect((await scopeOf('by-token')).personId).toBe(owner.personId)
    expect((await send('name=Third+rack&slug=by-token', readFileSync(small))).status).toBe(409)
    expect((await send('name=Third+rack&slug=none-of-it', 'no zip')).status).toBe(422)
    expect((await send('name=Third+rack', 'no zip')).status).toBe(422)
    const keeper = await callApi(POST, {
      token: await makeToken(owner, 'keeper'),
      query: '?name=a&slug=abc',
      body: {},
    })
    expect(keeper.status).toBe(403)
  })
})
