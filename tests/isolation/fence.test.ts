import pg from 'pg'
import { afterEach, describe, expect, it, vi } from 'vitest'
import type { Tx } from '@/lib/platform/db'
import { requireDatabase } from '@/tests/support/database'
import { makeWorkspace, within } from '@/tests/support/workspaces'

const cloned = requireDatabase()

describe('a transaction that ran out of time', () => {
  afterEach(() => {
    vi.useRealTimers()
    vi.restoreAllMocks()
  })

  it('sends nothing more, although its question still had a part to ask', async () => {
    const slow = await makeWorkspace('Slow lane')
    const { workspaceId } = slow
    const ask = (tx: Tx) =>
      tx.species.findMany({
        where: { workspaceId },
        include: { profiles: { include: { careSheets: true } } },
      })
    for (let warm = 0; warm < 3; warm++) await within(slow, ask)

    const sent: string[] = []
    const query = pg.Client.prototype.query
    const blocker = new pg.Client({ connectionString: cloned.urls.admin })
    await blocker.connect()
    const spy = vi.spyOn(pg.Client.prototype, 'query').mockImplementation(function (
      this: pg.Client,
      ...args: unknown[]
    ) {
      const [asked] = args
      if (this !== blocker) sent.push(typeof asked === 'string' ? asked : (asked as { text: string }).text)
      return Reflect.apply(query, this, args)
    } as typeof query)
    await blocker.query('begin; lock table species in access exclusive mode')
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] })
    const late = within(slow, ask).then(
      () => 'answered',
      (error: Error) => error.message,
    )
    await waitUntil(
      blocker,
      `select from pg_stat_activity where wait_event_type = 'Lock' and usename = 'oothecary_app'`,
    )
    await vi.advanceTimersByTimeAsync(66_000)
    vi.useRealTimers()
    await blocker.query('commit')
    const outcome = await late
    await blocker.end()
    spy.mockRestore()

    expect(outcome).not.toBe('answered')
    const asked = sent.map((text) =>
      /"public"\."(\w+)"|^(BEGIN|COMMIT|ROLLBACK)/.exec(text)?.slice(1).find(Boolean),
    )
    expect(asked.filter(Boolean)).toEqual(['BEGIN', 'species', 'ROLLBACK'])
  })
})

async function waitUntil(client: pg.Client, sql: string): Promise<void> {
  for (;;) if ((await client.query(sql)).rowCount) return
}
