import pg from 'pg'
import { beforeAll, describe, expect, it, vi } from 'vitest'
import { createZone } from '@/lib/features/zone/mutations'
import { authPool } from '@/lib/platform/auth-database'
import { readRefusal } from '@/lib/platform/database-error'
import * as database from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { fromPlainDate, toPlainDate } from '@/lib/platform/plain-date'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { makePerson, makeWorkspace, within } from '@/tests/support/workspaces'

const { inTransaction } = database
const cloned = requireDatabase()
const settingsOf = (workspaceId: string) => ({ workspaceId, personId: null, apiTokenId: null })
const admin = <T extends pg.QueryResultRow>(sql: string, values: unknown[] = []) =>
  withClient(cloned.urls.admin, async (client) => (await client.query<T>(sql, values)).rows)

// Connections of a database in another zone: what the service does about it has to be its own doing.
beforeAll(async () => {
  await admin(`alter database ${cloned.name} set timezone to 'Asia/Kathmandu'`)
})

describe('times', () => {
  it('are stored as the instants they are, whatever zone the server and this process are in', async () => {
    const owner = await makeWorkspace('Clock lane')
    const expiresAt = new Date('2027-03-28T01:30:00.250Z')
    const { id } = await within(owner, (tx) =>
      tx.invitation.create({
        data: {
          workspaceId: owner.workspaceId,
          email: 'guest@example.test',
          role: 'viewer',
          tokenHash: new Uint8Array([1, 2, 3]),
          invitedBy: String(owner.personId),
          expiresAt,
        },
      }),
    )
    const [row] = await admin<{ epoch: string }>(
      'select (extract(epoch from expires_at) * 1000)::bigint as epoch from invitation where id = $1',
      [id],
    )
    expect(Number(row?.epoch)).toBe(expiresAt.getTime())
    const read = await within(owner, (tx) =>
      tx.invitation.findFirst({ where: { workspaceId: owner.workspaceId, id } }),
    )
    expect(read?.expiresAt).toEqual(expiresAt)
  })

  it('and a day is stored as that day, and read as it, on both sides of midnight', async () => {
    const owner = await makeWorkspace('Day lane')
    const zone = await within(owner, (tx, workspace) =>
      createZone(tx, workspace, { name: 'Cool room', setTemperatureC: 18 }),
    )
    for (const day of ['2027-03-28', '2028-02-29', '1999-12-31']) {
      await within(owner, (tx) =>
        tx.zoneSetPoint.create({
          data: { workspaceId: owner.workspaceId, zoneId: zone.id, fromOn: fromPlainDate(day), dayC: 20 },
        }),
      )
      const [row] = await admin<{ day: string }>(
        'select from_on::text as day from zone_set_point where zone_id = $1 and from_on = $2::text::date',
        [zone.id, day],
      )
      expect(row?.day).toBe(day)
    }
    const points = await within(owner, (tx) =>
      tx.zoneSetPoint.findMany({ where: { workspaceId: owner.workspaceId, zoneId: zone.id } }),
    )
    expect(points.map(({ fromOn }) => toPlainDate(fromOn))).toContain('2028-02-29')
  })

  it('are counted by the connections of the sign-in in the same zone', async () => {
    const { rows } = await authPool().query<{ zone: string }>(`select current_setting('TimeZone') as zone`)
    expect(rows[0]?.zone).toBe('UTC')
  })
})

describe('a condition whose workspace is undefined', () => {
  it('is an error, never a condition that everything fulfils', async () => {
    const owner = await makeWorkspace('Undefined lane')
    const lost: { workspaceId?: string } = {}
    for (const ask of [
      (tx: database.Tx) => tx.species.findMany({ where: { workspaceId: lost.workspaceId } }),
      (tx: database.Tx) =>
        tx.species.count({ where: { workspaceId: owner.workspaceId, id: lost.workspaceId } }),
      (tx: database.Tx) =>
        tx.zone.updateMany({ where: { workspaceId: lost.workspaceId }, data: { name: 'x' } }),
    ])
      await expect(within(owner, async (tx) => void (await ask(tx)))).rejects.toThrow(/undefined/)
  })
})

describe('the way to the records', () => {
  it('is a transaction with its workspace set: the plain client is nowhere to be had', () => {
    expect(Object.keys(database).sort()).toEqual(['SESSION_OPTIONS', 'disconnect', 'inTransaction'])
  })

  it('sees nothing but an error where somebody forgot which workspace', async () => {
    await expect(inTransaction(settingsOf(''), (tx) => tx.zone.findMany())).rejects.toThrow(
      /workspace-missing/,
    )
  })

  it('leaves no workspace behind on its connection', async () => {
    const owner = await makeWorkspace('Forgetful lane')
    const used: pg.Client[] = []
    const query = pg.Client.prototype.query
    const spy = vi.spyOn(pg.Client.prototype, 'query').mockImplementation(function (
      this: pg.Client,
      ...args: unknown[]
    ) {
      used.push(this)
      return Reflect.apply(query, this, args)
    } as typeof query)
    await within(owner, (tx) => tx.zone.count({ where: { workspaceId: owner.workspaceId } }))
    spy.mockRestore()
    for (const connection of new Set(used)) {
      const { rows } = await connection.query(`select current_setting('app.workspace_id', true) as workspace`)
      expect(rows[0].workspace ?? '').toBe('')
    }
  })

  it('has its times kept by the server', async () => {
    const owner = await makeWorkspace('Patient lane')
    const [limits] = await within(
      owner,
      (tx) => tx.$queryRaw<Record<string, string>[]>`select current_setting('statement_timeout') as statement,
        current_setting('lock_timeout') as lock, current_setting('transaction_timeout') as transaction,
        current_setting('idle_in_transaction_session_timeout') as idle`,
    )
    expect(limits).toEqual({ statement: '20s', lock: '5s', transaction: '1min', idle: '20s' })
  })

  it('says busy to whoever waits too long for a row, and changes nothing', async () => {
    const owner = await makeWorkspace('Busy lane')
    const { id } = await within(owner, (tx, workspace) =>
      createZone(tx, workspace, { name: 'Warm room', setTemperatureC: 26 }),
    )
    const { workspaceId } = owner
    const rename = (tx: database.Tx) =>
      tx.zone.updateMany({ where: { workspaceId, id }, data: { name: 'Hot room' } })
    const refusal = await withClient(cloned.urls.admin, async (client) => {
      await client.query('begin')
      await client.query('select from zone where id = $1 for update', [id])
      const waits = within(owner, async (tx) => {
        await tx.$executeRaw`set local lock_timeout = '50ms'`
        return rename(tx)
      })
      const error = await waits.then(() => undefined, readRefusal)
      await client.query('rollback')
      return error
    })
    expect(refusal).toBeInstanceOf(AppError)
    expect(refusal?.code).toBe('busy')
  })

  it('that the server ended because it took too long is told to come back, not shown as a fault', async () => {
    const owner = await makeWorkspace('Slow lane')
    const slow = within(owner, async (tx) => {
      await tx.$executeRaw`set local statement_timeout = '50ms'`
      await tx.$queryRaw`select pg_sleep(5)::text`
    })
    const refusal = await slow.then(() => undefined, readRefusal)
    expect(refusal?.code).toBe('busy')
  })
})

describe('a connection that breaks while nobody uses it', () => {
  // A pool without a listener for errors ends the whole process here.
  it.each([
    ['the records', 'oothecary_app', async () => void (await makeWorkspace('Broken lane'))],
    ['the sign-in', 'oothecary_auth', async () => void (await makePerson('Broken Person'))],
  ])('is replaced by the pool of %s, and the next request does not notice', async (_pool, role, ask) => {
    await ask()
    const ended = await admin<{ ended: boolean }>(
      'select pg_terminate_backend(pid) as ended from pg_stat_activity where datname = current_database() and usename = $1',
      [role],
    )
    expect(ended.length).toBeGreaterThan(0)
    await new Promise((resolve) => setTimeout(resolve, 200))
    await expect(ask()).resolves.toBeUndefined()
  })
})
