import pg from 'pg'
import { vi } from 'vitest'

/** Statements of the service, counted from the start of the transaction in which they are sent. */
export type StatementCount = { sent: number }

/**
 * Counts what the service's role sends between BEGIN and COMMIT, and lets the `failing`-th of it fail inside the
 * database, as a lost table or a full disk would: the transaction is broken from there on. Gives back how to stop.
 */
export function watchStatements(failing?: number): StatementCount & { stop(): void } {
  const count = { sent: 0 }
  const query = pg.Client.prototype.query
  const spy = vi.spyOn(pg.Client.prototype, 'query').mockImplementation(function (
    this: pg.Client & { user?: string },
    ...args: unknown[]
  ) {
    const [asked] = args
    const text = typeof asked === 'string' ? asked : (asked as { text?: string })?.text
    const isBoundary = /^\s*(begin|commit|rollback)/i.test(text ?? '')
    if (this.user !== 'oothecary_app' || isBoundary) return Reflect.apply(query, this, args)
    count.sent += 1
    if (count.sent !== failing) return Reflect.apply(query, this, args)
    return Reflect.apply(query, this, [
      "do $$ begin raise exception 'planted by a test' using errcode = '53100'; end $$",
    ])
  } as typeof query)
  return Object.assign(count, { stop: () => spy.mockRestore() })
}
