import { randomUUID } from 'node:crypto'
import { beforeAll, describe, expect, it } from 'vitest'
import { createSale } from '@/lib/features/sale/mutations'
import { runOnce } from '@/lib/platform/operation'
import { askWith, listTroubles } from '@/tests/support/bookkeeping'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { COUNT_COMMITS, failingCommits } from '@/tests/support/failing-commits'
import { makeNymphs, makeRack, readHeadCount } from '@/tests/support/rack'
import { animalLine, plainSale } from '@/tests/support/sale'

const database = requireDatabase()
const SEED = process.env.TEST_SEED ?? '1'

describe(`a service of which every tenth commit fails, in a burst of other work (seed ${SEED})`, () => {
  beforeAll(async () => {
    await withClient(database.urls.admin, (client) => client.query(failingCommits(SEED)))
  })

  it('sells sixty animals sixty times, with as many receipts and without a gap', async () => {
    const rack = await makeRack('Busy lane')
    const nymphs = await makeNymphs(rack, { count: 60, hatchedOn: rack.day(-90), partedOn: rack.day(-60) })
    for (const { id } of nymphs) {
      const request = { key: `commits:${randomUUID()}`, content: id }
      const lines = [animalLine(id, 900, { overrideReason: 'a burst' })]
      const sell = () =>
        runOnce(rack.owner, request, async (tx, workspace) => {
          const actor = { scope: rack.owner, workspace }
          return (await createSale(tx, actor, plainSale(rack.today, lines))).value.id
        })
      const first = await sell()
      expect([first.repeated, await sell()]).toEqual([false, { value: first.value, repeated: true }])
    }
    await withClient(database.urls.admin, async (client) => {
      expect(await listTroubles(askWith(client))).toEqual([])
      const { rows } = await client.query<{ tried: number; failed: number }>(COUNT_COMMITS)
      expect(rows[0]?.failed).toBeGreaterThanOrEqual(6)
      expect(rows[0]?.failed).toBeLessThan((rows[0]?.tried ?? 0) / 5)
    })
    const count = await readHeadCount(rack, String(nymphs[0]?.clutchId))
    expect(count).toMatchObject({ sold: 60, single: 0, hatched: 60 })
  })
})
