import pg from 'pg'
import { afterAll, describe, expect, it } from 'vitest'
import { seededStream } from '@/lib/domain/random/seeded'
import { listMigrations } from '@/lib/ops/database/migrations.mjs'
import { makeDataFolder, removeDataFolder, startUp } from '@/tests/support/up'
import { adminUrlOf, type House, hasDatabase, open, readPostmaster } from './kill/house'
import { listBookTroubles } from './kill/ledger'

const SEED = process.env.TEST_SEED ?? '1'
const isLong = Boolean(process.env.TEST_LONG)
const KILLS = isLong ? 12 : 2
const DEMO = { DEMO: isLong ? 'on' : 'off' }
const STEPS = ['starting the database', 'preparing the database', 'starting the server'].concat(
  isLong ? ['filling the demo workspaces'] : [],
)
const stream = seededStream(`first start ${SEED}`)
const house: House = { dataFolder: makeDataFolder(), ups: [] }
afterAll(() => removeDataFolder(house.dataFolder, house.ups))

/** Starts it and kills it at a moment of the seed's choosing, now and then together with its database. */
async function startAndKill(): Promise<void> {
  const up = startUp(house.dataFolder, DEMO)
  house.ups.push(up)
  await Promise.race([up.says(stream.pick(STEPS)), up.says('\nData: ')])
  await new Promise((resolve) => setTimeout(resolve, stream.integer(0, 1500)))
  if (stream.chance(0.4) && hasDatabase(house)) process.kill(readPostmaster(house), 'SIGKILL')
  up.child.kill('SIGKILL')
  await up.ended
}

describe(`a first start that is killed ${KILLS} times in the middle of it (seed ${SEED})`, () => {
  it('makes everything whole in the end, and once', async () => {
    for (let kill = 0; kill < KILLS; kill++) await startAndKill()
    await open(house, DEMO)
    const client = new pg.Client({ connectionString: adminUrlOf(house), options: '-c TimeZone=UTC' })
    await client.connect()
    try {
      const { rows: databases } = await client.query(
        `select datname from pg_database where datname like 'oothecary%'`,
      )
      expect(databases).toEqual([{ datname: 'oothecary' }])
      const { rows: history } = await client.query('select migration_name as name from _prisma_migrations')
      expect(history.map(({ name }) => name).sort()).toEqual(listMigrations().map(({ name }) => name))
      const { rows: counted } = await client.query('select count(*)::int as workspaces from workspace')
      expect(counted[0].workspaces).toBe(isLong ? 2 : 0)
      expect(await listBookTroubles(client)).toEqual([])
    } finally {
      await client.end()
    }
  }, 1_800_000)
})
