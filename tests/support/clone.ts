import { randomBytes } from 'node:crypto'
import pg from 'pg'

export type DatabaseRole = 'admin' | 'app' | 'auth' | 'jobs' | 'backup'

/** A database of its own, with every migration applied and nothing in it. */
export type TestDatabase = {
  name: string
  urls: Record<DatabaseRole, string>
  /** What lib/platform/env.ts asks for, pointing here. */
  environment: Record<string, string>
  drop(): Promise<void>
}

// Another one is named where a guard was taken out of it, to see that the tests notice.
const TEMPLATE = process.env.TEST_TEMPLATE ?? 'oothecary_template'

function requireVariable(name: string): string {
  const value = process.env[name]
  if (value) return value
  throw new Error(`${name} is not set: tests with a database are run by npm test -- tests/features`)
}

function urlOf(role: DatabaseRole, database: string): string {
  const url = new URL(requireVariable('TEST_DATABASE_URL'))
  url.pathname = `/${database}`
  if (role === 'admin') return url.href
  url.username = `oothecary_${role}`
  url.password = encodeURIComponent(JSON.parse(requireVariable('TEST_PASSWORDS'))[role])
  return url.href
}

/** Runs one piece of work on a plain connection. */
export async function withClient<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString: url, options: '-c TimeZone=UTC' })
  await client.connect()
  try {
    return await work(client)
  } finally {
    await client.end()
  }
}

function environmentFor(urls: Record<DatabaseRole, string>): Record<string, string> {
  return {
    APP_DATABASE_URL: urls.app,
    AUTH_DATABASE_URL: urls.auth,
    JOBS_DATABASE_URL: urls.jobs,
    AUTH_SECRET: 'a secret that only tests know, long enough for the check',
    NEXTAUTH_SECRET: 'a secret that only tests know, long enough for the check',
    NEXT_SERVER_ACTIONS_ENCRYPTION_KEY: Buffer.alloc(32, 7).toString('base64'),
    LINK_KEY: 'a link key that only tests know, long enough for the check',
    PUBLIC_ADDRESS: 'http://127.0.0.1:3000',
    NEXTAUTH_URL: 'http://127.0.0.1:3000',
    MAIL_FROM: 'Oothecary <tests@localhost>',
    SMTP_URL: '',
  }
}

/** Clones the template, or another one. Rights on the database itself are not cloned, so they are set again. */
export async function createTestDatabase(template = TEMPLATE): Promise<TestDatabase> {
  const name = `test_${randomBytes(8).toString('hex')}`
  const admin = urlOf('admin', 'postgres')
  await withClient(admin, async (client) => {
    await client.query(`create database ${name} template ${template}`)
    await client.query(`revoke all on database ${name} from public`)
    await client.query(`grant all on database ${name} to oothecary_owner`)
    await client.query(
      `grant connect on database ${name} to oothecary_app, oothecary_auth, oothecary_jobs, oothecary_backup`,
    )
  })
  const roles: DatabaseRole[] = ['admin', 'app', 'auth', 'jobs', 'backup']
  const urls = Object.fromEntries(roles.map((role) => [role, urlOf(role, name)])) as TestDatabase['urls']
  const drop = async () => {
    await withClient(admin, (client) => client.query(`drop database ${name} with (force)`))
  }
  return { name, urls, environment: environmentFor(urls), drop }
}
