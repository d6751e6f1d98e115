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
    const [config, values] = args
    if (typeof config === 'object' && config !== null && 'text' in config) {
      const inside = 'values' in config ? config.values : undefined
      sent.push({ text: String(config.text), values: readValues(inside ?? values) })
    }
    return Reflect.apply(query, this, args)
  } as typeof query
  await inTransaction(scope, (tx) => listIndividuals(tx, scope.workspaceId, { filter: {}, limit: 51 }))
  pg.Client.prototype.query = query
  await disconnect()
  const statement = sent.findLast(({ text }) => /from\s+"?individual/i.test(text))
  if (!statement) throw new Error('the list was not seen on the wire')
  return statement
}

function readValues(values: unknown): unknown[] {
  return Array.isArray(values) ? [...values] : []
}

async function startBareServer(database: TestDatabase, statement: { text: string; values: unknown[] }) {
  const pool = new pg.Pool({ connectionString: database.urls.admin, max: 12 })
  // The database goes before the pool when something failed; that must not hide what failed.
  pool.on('error', () => {})
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

/** `headersOf` a run: a token is held to 1,200 calls a minute, so every run of the list has one of its own. */
type Side = { name: string; url: string; headersOf?: (run: number) => Record<string, string> }

async function compare(one: Side, other: Side): Promise<void> {
  const results: Record<string, LoadResult[]> = { [one.name]: [], [other.name]: [] }
  for (const { url, headersOf } of [one, other])
    await runLoad({ url, headers: headersOf?.(ROUNDS), connections: 4, seconds: 1 })
  for (let round = 0; round < ROUNDS; round++)
    for (const { name, url, headersOf } of round % 2 === 0 ? [one, other] : [other, one])
      results[name]?.push(
        await runLoad({ url, headers: headersOf?.(round), connections: CONNECTIONS, seconds: SECONDS }),
      )
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
    const tokens: string[] = []
    for (let run = 0; run <= ROUNDS; run++) tokens.push(await makeDemoToken(database))
    const base = `${server.address}/w/larch-lane-mantids`
    await compare(
      { name: 'animals page with its queries', url: `${base}/individuals`, headersOf: () => ({ cookie }) },
      { name: 'the same page without them', url: `${base}/individuals-bare`, headersOf: () => ({ cookie }) },
    )
    await compare(
      {
        name: 'API list of 50 animals',
        url: `${server.address}/api/v1/individuals?limit=50`,
        headersOf: (run) => ({ authorization: `Bearer ${tokens[run]}` }),
      },
      { name: 'the same statement over bare pg', url: bare.address },
    )
    await bare.stop()
    await server.stop()
  } catch (error) {
    // Said before the cleanup, which ends connections that are still open and would be all one sees.
    console.error(error)
    throw error
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
  // The audit trail of the token belongs to its workspace, so the workspace has to be set here too.
  await admin.query(
    "select set_config('app.workspace_id', workspace_id::text, false) from workspace_slug where slug = 'larch-lane-mantids'",
  )
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
