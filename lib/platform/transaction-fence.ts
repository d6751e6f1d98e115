import type { SqlDriverAdapter, SqlQuery, Transaction } from '@prisma/driver-adapter-utils'

/**
 * A Prisma interactive transaction that runs out of time may still send a statement after its connection was given
 * back, and so inside another workspace's transaction. Behind the fence nothing reaches the wire once a COMMIT or
 * ROLLBACK was sent.
 */
export function fenceTransaction(transaction: Transaction): Transaction {
  let ended = false
  let closed = false
  const guard =
    <T>(send: (query: SqlQuery) => Promise<T>) =>
    (query: SqlQuery): Promise<T> => {
      if (ended) return Promise.reject(new Error('fence: a statement came after the end of its transaction'))
      if (/^\s*(commit|rollback)\s*;?\s*$/i.test(query.sql)) ended = true
      return send(query)
    }
  const close = (end: () => Promise<void>) => async () => {
    ended = true
    if (closed) return
    closed = true
    await end()
  }
  transaction.queryRaw = guard(transaction.queryRaw.bind(transaction))
  transaction.executeRaw = guard(transaction.executeRaw.bind(transaction))
  transaction.commit = close(transaction.commit.bind(transaction))
  transaction.rollback = close(transaction.rollback.bind(transaction))
  return transaction
}

/** Puts the fence around every transaction that an adapter starts. */
export function fenceAdapter<T extends SqlDriverAdapter>(adapter: T): T {
  const start = adapter.startTransaction.bind(adapter)
  adapter.startTransaction = async (isolationLevel) => fenceTransaction(await start(isolationLevel))
  return adapter
}
