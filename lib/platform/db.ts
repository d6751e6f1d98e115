import { PrismaPg } from '@prisma/adapter-pg'
import { isRetryable } from '@/lib/platform/database-error'
import { env } from '@/lib/platform/env'
import {
  type Prisma,
  PrismaClient,
  type Workspace as WorkspaceModel,
} from '@/lib/platform/generated/prisma/client'
import { log } from '@/lib/platform/log'
import { nameStatement } from '@/lib/platform/statement-name'
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
      statementNameGenerator: nameStatement,
    },
  )
  const open = factory.connect.bind(factory)
  factory.connect = async () => fenceAdapter(await open())
  return new PrismaClient({ adapter: factory })
}

/** A workspace's own settings as they stand at the start of a transaction. */
export type WorkspaceRow = Omit<
  WorkspaceModel,
  'workspaceId' | 'createdAt' | 'requiresSecondFactor' | 'archivedAt'
>

/**
 * Runs work in one transaction whose workspace is set before anything else, so that row-level security sees it.
 * Tried again as a whole, with a growing random pause, when the database says that nothing happened. The work gets the
 * workspace's row as well; there is none only while a workspace is being made.
 */
export async function inTransaction<T>(
  settings: TransactionSettings,
  work: (tx: Tx, entered: WorkspaceRow | undefined) => Promise<T>,
): Promise<T> {
  client ??= connect()
  for (let attempt = 1; ; attempt++) {
    try {
      return await client.$transaction(async (tx) => work(tx, await enter(tx, settings)), {
        maxWait: 10_000,
        timeout: 65_000,
      })
    } catch (error) {
      if (attempt >= 5 || !isRetryable(error)) throw error
      await new Promise((resolve) => setTimeout(resolve, attempt * 20 + pause(attempt * 60)))
    }
  }
}

async function enter(
  tx: Tx,
  { workspaceId, personId, apiTokenId }: TransactionSettings,
): Promise<WorkspaceRow | undefined> {
  const [row] = await tx.$queryRaw<WorkspaceRow[]>`
    select name, slug, time_zone as "timeZone", country, currency, language,
      instar_convention::text as "instarConvention", instar_style::text as "instarStyle",
      temperature_unit::text as "temperatureUnit", length_unit::text as "lengthUnit", contact,
      claim_terms as "claimTerms", food_text as "foodText", label_key as "labelKey", demo_anchor_on as "demoAnchorOn", version
    from app.enter_workspace(${workspaceId}, ${personId ?? ''}, ${apiTokenId ?? ''})`
  return row
}

function pause(milliseconds: number): number {
  return Math.random() * milliseconds
}

/** Gives every connection back; for the end of a process and of a test file. */
export async function disconnect(): Promise<void> {
  await client?.$disconnect()
  client = undefined
}
