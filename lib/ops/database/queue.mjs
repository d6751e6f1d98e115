// The queue's tables belong to the jobs role, in a schema of their own.
import { Logger, runMigrations } from 'graphile-worker'
import { LOGIN_ROLES } from './connection.mjs'

const quiet = new Logger(() => () => {})

async function hasQueue(client) {
  const { rows } = await client.query(`select to_regclass('graphile_worker.migrations') is not null as has`)
  return rows[0].has
}

/** The worker's own migrations start with CREATE SCHEMA, so the role may make one, for as long as that takes. */
export async function ensureQueue(client, jobsUrl) {
  const migrate = () => runMigrations({ connectionString: jobsUrl, logger: quiet })
  if (await hasQueue(client)) return migrate()
  const { rows } = await client.query('select current_database() as name')
  const database = client.escapeIdentifier(rows[0].name)
  await client.query(`grant create on database ${database} to ${LOGIN_ROLES.jobs}`)
  try {
    await migrate()
  } finally {
    await client.query(`revoke create on database ${database} from ${LOGIN_ROLES.jobs}`)
  }
}
