import { readdir } from 'node:fs/promises'
import path from 'node:path'
import pg from 'pg'
import { authPool } from '@/lib/platform/auth-database'
import { SESSION_OPTIONS } from '@/lib/platform/db'
import { env } from '@/lib/platform/env'

/** The migrations that this version has, by name, in their order. */
export async function listKnownMigrations(): Promise<string[]> {
  const entries = await readdir(path.join(process.cwd(), 'prisma/migrations'), { withFileTypes: true })
  return entries
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort()
}

/** The last change of the tables: which version of them something was written under. */
export async function loadNewestMigration(): Promise<string> {
  return (await listKnownMigrations()).at(-1) ?? ''
}

/** The migrations that this version has and the database has not, by name. */
export async function listMissingMigrations(): Promise<string[]> {
  const wanted = await listKnownMigrations()
  const applied = new Set(await loadAppliedMigrations())
  return wanted.filter((name) => !applied.has(name))
}

async function loadAppliedMigrations(): Promise<string[]> {
  const found = await authPool().query<{ isThere: boolean }>(
    `select to_regclass('public._prisma_migrations') is not null as "isThere"`,
  )
  if (!found.rows[0]?.isThere) return []
  const rows = await authPool().query<{ name: string }>(
    `select migration_name as name from public._prisma_migrations
     where finished_at is not null and rolled_back_at is null`,
  )
  return rows.rows.map((row) => row.name)
}

type AppRole = {
  isSuperuser: boolean
  maySeeEverything: boolean
  owns: number
  mayBecomeOwner: boolean
  timeZone: string
}

/** What the service's own connection could do that would let one workspace see another, or write wrong times. */
export function listRoleProblems(role: AppRole): string[] {
  const problems: [boolean, string][] = [
    [
      role.isSuperuser,
      'APP_DATABASE_URL signs in as a superuser, for whom row-level security does not hold.',
    ],
    [role.maySeeEverything, 'APP_DATABASE_URL signs in as a role with BYPASSRLS.'],
    [role.owns > 0, 'APP_DATABASE_URL signs in as an owner of tables, who could lift row-level security.'],
    [role.mayBecomeOwner, 'The role of APP_DATABASE_URL may become the owner of the tables.'],
    [role.timeZone !== 'UTC', `The database session is in ${role.timeZone}; it has to be in UTC.`],
  ]
  return problems.filter(([holds]) => holds).map(([, words]) => words)
}

async function loadAppRole(): Promise<AppRole> {
  const client = new pg.Client({ connectionString: env().APP_DATABASE_URL, options: SESSION_OPTIONS })
  await client.connect()
  try {
    const found = await client.query<AppRole>(
      `select r.rolsuper as "isSuperuser", r.rolbypassrls as "maySeeEverything",
              current_setting('TimeZone') as "timeZone",
              (select count(*)::int from pg_class c
               where c.relnamespace = 'public'::regnamespace and c.relowner = r.oid) as owns,
              exists (select from pg_class c
                      where c.oid = to_regclass('public.workspace')
                        and pg_has_role(current_user, c.relowner, 'MEMBER')) as "mayBecomeOwner"
       from pg_roles r where r.rolname = current_user`,
    )
    const row = found.rows[0]
    if (!row) throw new Error('The role of APP_DATABASE_URL is unknown to its own database.')
    return row
  } finally {
    await client.end()
  }
}

/**
 * What has to be mended before the service may take a request.
 * @throws Error with a sentence per problem
 */
export async function requireReady(): Promise<void> {
  env()
  const problems = listRoleProblems(await loadAppRole())
  const missing = await listMissingMigrations()
  if (missing.length > 0)
    problems.push(`The database is behind: ${missing.join(', ')} not applied. Run npm run migrate.`)
  if (problems.length > 0) throw new Error(`The service does not start:\n  ${problems.join('\n  ')}`)
}

/** The framework goes on when its start hook throws, so a service that may not start has to end itself. */
export async function requireReadyOrEnd(): Promise<void> {
  try {
    await requireReady()
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`)
    process.exit(1)
  }
}
