// The five roles, made before any migration. Grants on tables are the migrations' own business.
import { Refusal } from '../say.mjs'
import { connect, LOGIN_ROLES, OWNER, urlAs } from './connection.mjs'
import { scramVerifier } from './scram.mjs'

const EXTENSIONS = ['btree_gist', 'citext']
const FORBIDDEN = '42501'

async function listRoles(client) {
  const { rows } = await client.query(
    `select rolname, rolsuper or rolbypassrls as may_bypass from pg_roles where rolname like 'oothecary\\_%'`,
  )
  return new Map(rows.map((row) => [row.rolname, row.may_bypass]))
}

/** Runs the statement, or keeps it for somebody with more rights. */
async function tryOrKeep(client, kept, statement) {
  try {
    await client.query(statement)
  } catch (error) {
    if (error.code !== FORBIDDEN) throw error
    kept.push(`${statement};`)
  }
}

async function passwordFits(adminUrl, role, password) {
  try {
    const client = await connect(urlAs(adminUrl, role, password))
    await client.end()
    return true
  } catch (error) {
    if (['28P01', '28000'].includes(error.code)) return false
    throw error
  }
}

async function refuseWhenInUse(client, role) {
  const { rows } = await client.query(
    'select count(*)::int as sessions from pg_stat_activity where usename = $1',
    [role],
  )
  if (rows[0].sessions === 0) return
  throw new Refusal(
    `The database server already serves another Oothecary with other passwords: the role ${role} is in use. Copy that installation's secrets.json into this data folder, or stop it first.`,
  )
}

async function ensureLoginRole(client, { adminUrl, role, password, existing }) {
  const verifier = client.escapeLiteral(scramVerifier(password))
  if (!existing.has(role)) {
    await client.query(`create role ${role} login password ${verifier}`)
    return
  }
  if (await passwordFits(adminUrl, role, password)) return
  await refuseWhenInUse(client, role)
  await client.query(`alter role ${role} login password ${verifier}`)
}

async function ensureLoginRoles(client, { adminUrl, passwords, existing }) {
  for (const [key, role] of Object.entries(LOGIN_ROLES)) {
    await ensureLoginRole(client, { adminUrl, role, password: passwords[key], existing })
  }
}

/** Only the backup may read past row-level security; a server's owner often may not hand that right out. */
async function settleBypass(client, existing, kept) {
  for (const role of [OWNER, LOGIN_ROLES.app, LOGIN_ROLES.auth, LOGIN_ROLES.jobs]) {
    if (existing.get(role)) await tryOrKeep(client, kept, `alter role ${role} nosuperuser nobypassrls`)
  }
  if (!existing.get(LOGIN_ROLES.backup))
    await tryOrKeep(client, kept, `alter role ${LOGIN_ROLES.backup} bypassrls`)
}

async function settleMembership(client) {
  const { rows } = await client.query(
    `select pg_has_role($1, 'SET') as admin_is_owner, pg_has_role($1, $2, 'SET') as owner_is_jobs`,
    [OWNER, LOGIN_ROLES.jobs],
  )
  if (!rows[0].admin_is_owner)
    await client.query(`grant ${OWNER} to current_user with inherit true, set true`)
  // A migration hands the function that enqueues a job over to the role that owns the queue.
  if (!rows[0].owner_is_jobs)
    await client.query(`grant ${LOGIN_ROLES.jobs} to ${OWNER} with inherit true, set true`)
}

async function settleDatabase(client) {
  const { rows } = await client.query(
    `select current_database() as name, (select nspowner::regrole::text from pg_namespace where nspname = 'public') as owner`,
  )
  const database = client.escapeIdentifier(rows[0].name)
  await client.query(`revoke all on database ${database} from public`)
  await client.query(`grant all on database ${database} to ${OWNER}`)
  await client.query(`grant connect on database ${database} to ${Object.values(LOGIN_ROLES).join(', ')}`)
  for (const extension of EXTENSIONS)
    await client.query(`create extension if not exists ${extension} schema public`)
  if (rows[0].owner !== OWNER) await client.query(`alter schema public owner to ${OWNER}`)
}

async function checkServer(client) {
  const { rows } = await client.query(
    `select current_setting('server_version') as version, current_setting('server_version_num')::int as number`,
  )
  if (rows[0].number >= 180_000) return
  throw new Refusal(
    `The database server is PostgreSQL ${rows[0].version}; Oothecary needs PostgreSQL 18 or newer.`,
  )
}

/**
 * Makes or mends roles, memberships, extensions and the ownership of the schema. May be run again.
 * @returns {Promise<string[]>} statements that this user may not run; only the backup waits for them
 */
export async function ensureRoles(client, { adminUrl, passwords }) {
  await checkServer(client)
  const kept = []
  const existing = await listRoles(client)
  try {
    if (!existing.has(OWNER)) await client.query(`create role ${OWNER} nologin`)
    await ensureLoginRoles(client, { adminUrl, passwords, existing })
    await settleBypass(client, existing, kept)
    await settleMembership(client)
    await settleDatabase(client)
  } catch (error) {
    if (error.code !== FORBIDDEN) throw error
    throw new Refusal(
      `The user of DATABASE_URL may not prepare the database: ${error.message}. It must own the database and have CREATEROLE: alter role … createrole; alter database … owner to …;`,
    )
  }
  return kept
}
