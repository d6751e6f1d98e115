import pg from 'pg'
import { env } from '@/lib/platform/env'
import { AppError } from '@/lib/platform/errors'

/**
 * Copying a whole workspace takes longer than a request may: it has a connection of its own beside the pool, as the
 * same role and under the same policies, and few at once, so that it never takes a place from somebody at the counter.
 */
const MOST_AT_ONCE = 2
const SESSION = [
  'TimeZone=UTC',
  'statement_timeout=120000',
  'lock_timeout=5000',
  'idle_in_transaction_session_timeout=120000',
  'transaction_timeout=900000',
]

let open = 0

export type OwnTransaction = { workspaceId: string; isReadOnly: boolean }

/**
 * Runs the work in one transaction of one moment, inside one workspace.
 * @throws AppError too-many while others copy already
 */
export async function inOwnTransaction<T>(
  { workspaceId, isReadOnly }: OwnTransaction,
  work: (client: pg.Client) => Promise<T>,
): Promise<T> {
  if (open >= MOST_AT_ONCE)
    throw new AppError(
      'too-many',
      'Other workspaces are being copied just now. Please try again in a minute.',
      {
        present: { retryAfterSeconds: 60 },
      },
    )
  open += 1
  const options = SESSION.map((setting) => `-c ${setting}`).join(' ')
  const client = new pg.Client({ connectionString: env().APP_DATABASE_URL, options })
  client.on('error', () => {}) // told by the query that was under way
  try {
    await client.connect()
    await client.query(`begin isolation level repeatable read ${isReadOnly ? 'read only' : 'read write'}`)
    await client.query(`select from app.enter_workspace($1, '', '')`, [workspaceId])
    const value = await work(client)
    await client.query('commit')
    return value
  } finally {
    open -= 1
    await client.end()
  }
}
