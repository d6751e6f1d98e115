import { cpSync, mkdirSync } from 'node:fs'
import http from 'node:http'
import path from 'node:path'
import pg from 'pg'
import { createTestDatabase, type TestDatabase } from '@/tests/support/clone'
import { demoSignIn, seedDemoInto } from '@/tests/support/demo-server'
import { type LoadResult, median, runLoad } from '@/tests/support/load'
import { buildProject, copyProject, readText, replaceFile } from '@/tests/support/scratch-project'

/**
 * Two ratios in one run. A page with its queries against the same page, proxy, layout and rows without them; and a
 * list of the JSON API against the very same SQL over bare pg. Rounds alternate, so that a noisy machine is noisy for both.
 */
const ROUNDS = 5
const SECONDS = 3
const CONNECTIONS = 16
const PAGE = 'app/w/[workspace]/individuals'

// The page as it is, but its loader is asked once and then answers from memory.
function addBarePage(folder: string): void {
  const bare = path.join(folder, 'app/w/[workspace]/individuals-bare')
  mkdirSync(bare, { recursive: true })
  cpSync(path.join(folder, PAGE, '_components'), path.join(bare, '_components'), { recursive: true })
  const source = readText(path.join(folder, PAGE, 'page.tsx'))
  replaceFile(path.join(bare, 'page.tsx'), source.replace('@/lib/features/individual/loaders', './kept'))
  replaceFile(
    path.join(bare, 'kept.ts'),
    `import { loadIndividualListPage as load } from '@/lib/features/individual/loaders'
let kept: ReturnType<typeof load> | undefined
export const loadIndividualListPage: typeof load = (...asked) => (kept ??= load(...asked))
`,
  )
}

/** The statement of the API's list, as Prisma sends it, with its values. */
async function captureListStatement(database: TestDatabase): Promise<{ text: string; values: unknown[] }> {
  Object.assign(process.env, database.environment)
  const { listIndividuals } = await import('@/lib/features/individual/data')
  const { inTransaction, disconnect } = await import('@/lib/platform/db')
  const { mintScope } = await import('@/lib/platform/workspace')
  const admin = new pg.Client({ connectionString: database.urls.admin })
  await admin.connect()
  const found = await admin.query("select workspace_id from workspace_slug where slug = 'larch-lane-mantids'")
  await admin.end()
  const scope = mintScope({ workspaceId: found.rows[0].workspace_id, personId: null, role: 'owner' })
  const sent: { text: string; values: unknown[] }[] = []
  const query = pg.Client.prototype.query
  pg.Client.prototype.query = function capture(this: pg.Client, ...args: unknown[]) {
    const first = args[0]
    if (typeof first === 'object' && first !== null && 'text' in first)
      sent.push({ text: String(first.text), values: [...(Array.isArray(args[1]) ? args[1] : [])] })
    return Reflect.apply(query, this, args)
  } as typeof query
  await inTransaction(scope, (tx) => listIndividuals(tx, scope.workspaceId, { filter: {}, limit: 51 }))
  pg.Client.prototype.query = query
  await disconnect()
  const statement = sent.findLast(({ text }) => /from\s+"?individual/i.test(text))
  if (!statement) throw new Error('the list was not seen on the wire')
  return statement
}

async function startBareServer(database: TestDatabase, statement: { text: string; values: unknown[] }) {
  const pool = new pg.Pool({ connectionString: database.urls.admin, max: 12 })
  const server = http.createServer(async (_request, response) => {
    const { rows } = await pool.query(statement.text, statement.values)
    response.setHeader('content-type', 'application/json')
    response.end(JSON.stringify({ items: rows, nextCursor: null }))
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port } = server.address() as { port: number }
  const stop = async () => {
    server.closeAllConnections()
    await new Promise((resolve) => server.close(resolve))
    await pool.end()
  }
  return { address: `http://127.0.0.1:${port}/`, stop }
}

async function signInForCookie(address: string): Promise<string> {
  const { email, password } = demoSignIn('mara')
  const first = await fetch(`${address}/api/auth/csrf`)
  const { csrfToken } = await first.json()
  const jar = first.headers.getSetCookie().map((cookie) => cookie.split(';')[0])
  const answer = await fetch(`${address}/api/auth/callback/credentials`, {
    method: 'POST',
    redirect: 'manual',
    headers: { cookie: jar.join('; '), origin: address },
    body: new URLSearchParams({ csrfToken, email, password, json: 'true' }),
  })
  const cookies = [...jar, ...answer.headers.getSetCookie().map((cookie) => cookie.split(';')[0])]
  return cookies.join('; ')
}

type Side = { name: string; url: string; headers?: Record<string, string> }

async function compare(one: Side, other: Side): Promise<void> {
  const results: Record<string, LoadResult[]> = { [one.name]: [], [other.name]: [] }
  for (const { url, headers } of [one, other]) await runLoad({ url, headers, connections: 4, seconds: 1 })
  for (let round = 0; round < ROUNDS; round++)
    for (const { name, url, headers } of round % 2 === 0 ? [one, other] : [other, one])
      results[name]?.push(await runLoad({ url, headers, connections: CONNECTIONS, seconds: SECONDS }))
  for (const { name } of [one, other]) {
    const rounds = results[name] ?? []
    const rate = median(rounds.map(({ perSecond }) => perSecond))
    const tail = median(rounds.map(({ p99Ms, p50Ms }) => p99Ms / p50Ms))
    console.log(`${name.padEnd(44)} ${rate.toFixed(1).padStart(8)} a second   p99/p50 ${tail.toFixed(2)}`)
  }
  const ratios = (results[one.name] ?? []).map(
    ({ perSecond }, round) => perSecond / (results[other.name]?.[round]?.perSecond ?? Number.NaN),
  )
  console.log(`ratio, median of ${ROUNDS} rounds: ${median(ratios).toFixed(2)}\n`)
}

export async function run(): Promise<void> {
  const database = await createTestDatabase()
  await seedDemoInto(database)
  const statement = await captureListStatement(database)
  const project = copyProject()
  try {
    addBarePage(project.folder)
    buildProject(project.folder)
    const { startServer } = await import(path.join(project.folder, 'tests/support/server.ts'))
    const server = await startServer(database, { DIST_DIR: '.next' })
    const bare = await startBareServer(database, statement)
    const cookie = await signInForCookie(server.address)
    const token = await makeDemoToken(database)
    const base = `${server.address}/w/larch-lane-mantids`
    await compare(
      { name: 'animals page with its queries', url: `${base}/individuals`, headers: { cookie } },
      { name: 'the same page without them', url: `${base}/individuals-bare`, headers: { cookie } },
    )
    await compare(
      {
        name: 'API list of 50 animals',
        url: `${server.address}/api/v1/individuals?limit=50`,
        headers: { authorization: `Bearer ${token}` },
      },
      { name: 'the same statement over bare pg', url: bare.address },
    )
    await bare.stop()
    await server.stop()
  } finally {
    project.remove()
    await database.drop()
  }
}

async function makeDemoToken(database: TestDatabase): Promise<string> {
  const { createSecret, hashSecret } = await import('@/lib/platform/secret')
  const token = createSecret()
  const admin = new pg.Client({ connectionString: database.urls.admin })
  await admin.connect()
  await admin.query(
    `insert into api_token (workspace_id, name, role, token_hash, person_id, expires_at)
     select m.workspace_id, 'bench', 'owner', $1, m.person_id, now() + interval '1 day'
     from membership m join workspace_slug s using (workspace_id)
     where s.slug = 'larch-lane-mantids' and m.role = 'owner'`,
    [Buffer.from(hashSecret(token))],
  )
  await admin.end()
  return token
}
