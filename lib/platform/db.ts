import { PrismaPg } from '@prisma/adapter-pg'
import { isRetryable } from '@/lib/platform/database-error'
import { env } from '@/lib/platform/env'
import { type Prisma, PrismaClient } from '@/lib/platform/generated/prisma/client'
import { log } from '@/lib/platform/log'
import { fenceAdapter } from '@/lib/platform/transaction-fence'

/** The one kind of handle with which records are read and written: inside a workspace's transaction. */
export type Tx = Prisma.TransactionClient

export type TransactionSettings = { workspaceId: string; personId: string | null; apiTokenId: string | null }

// Times are kept by the server, which also ends what this process forgot. UTC because the driver reads instants so.
export const SESSION_OPTIONS = [
  'TimeZone=UTC',
  'statement_timeout=20000',
  'lock_timeout=5000',
  'idle_in_transaction_session_timeout=20000',
  'transaction_timeout=60000',
]
  .map((setting) => `-c ${setting}`)
  .join(' ')

let client: PrismaClient | undefined

function connect(): PrismaClient {
  const factory = new PrismaPg(
    { connectionString: env().APP_DATABASE_URL, max: env().APP_POOL_SIZE, options: SESSION_OPTIONS },
    {
      onPoolError: (error) => log.error({ error: error.message }, 'a database connection broke while idle'),
      onConnectionError: (error) => log.error({ error: error.message }, 'a database connection broke'),
    },
  )
  const open = factory.connect.bind(factory)
  factory.connect = async () => fenceAdapter(await open())
  return new PrismaClient({ adapter: factory })
}

/**
 * Runs work in one transaction whose workspace is set before anything else, so that row-level security sees it.
 * Tried again as a whole, with a growing random pause, when the database says that nothing happened.
 */
export async function inTransaction<T>(
  settings: TransactionSettings,
  work: (tx: Tx) => Promise<T>,
): Promise<T> {
  client ??= connect()
  for (let attempt = 1; ; attempt++) {
    try {
      return await client.$transaction(
        async (tx) => {
          await tx.$queryRaw`select
            set_config('app.workspace_id', ${settings.workspaceId}, true),
            set_config('app.person_id', ${settings.personId ?? ''}, true),
            set_config('app.api_token_id', ${settings.apiTokenId ?? ''}, true)`
          return work(tx)
        },
        { maxWait: 10_000, timeout: 65_000 },
      )
    } catch (error) {
      if (attempt >= 5 || !isRetryable(error)) throw error
      await new Promise((resolve) => setTimeout(resolve, attempt * 20 + pause(attempt * 60)))
    }
  }
}

function pause(milliseconds: number): number {
  return Math.random() * milliseconds
}

/** Gives every connection back; for the end of a process and of a test file. */
export async function disconnect(): Promise<void> {
  await client?.$disconnect()
  client = undefined
}
