import pg from 'pg'
import { env } from '@/lib/platform/env'
import { log } from '@/lib/platform/log'

let pool: pg.Pool | undefined

/**
 * The small pool of the role that knows people and devices and may look up, in one statement, which workspace a
 * session, token or link belongs to. Nothing else in the service connects as this role.
 */
export function authPool(): pg.Pool {
  if (!pool) {
    pool = new pg.Pool({
      connectionString: env().AUTH_DATABASE_URL,
      max: 4,
      options: '-c TimeZone=UTC -c statement_timeout=10000 -c idle_in_transaction_session_timeout=10000',
    })
    pool.on('error', (error) => log.error({ error: error.message }, 'a sign-in connection broke while idle'))
  }
  return pool
}

/** Gives every sign-in connection back. */
export async function disconnectAuth(): Promise<void> {
  const open = pool
  pool = undefined
  await open?.end()
}
