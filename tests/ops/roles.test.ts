import { randomBytes } from 'node:crypto'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { prepareDatabase } from '@/lib/ops/database/prepare.mjs'
import { startScratchCluster } from '@/lib/ops/testing/scratch.mjs'
import { withClient } from '@/tests/support/clone'

// A server of one's own, whose owner is no superuser: roles belong to the whole cluster, so it needs its own.
let cluster: Awaited<ReturnType<typeof startScratchCluster>>
let ownerUrl: string
const passwords = { app: 'a1', auth: 'a2', jobs: 'a3', backup: 'a4' }

const as = (role: string, password: string, database = 'shelf') => {
  const url = new URL(cluster.adminUrl)
  url.username = role
  url.password = password
  url.pathname = `/${database}`
  return url.href
}

beforeAll(async () => {
  cluster = await startScratchCluster()
  await withClient(cluster.adminUrl, async (client) => {
    await client.query(`create role breeder login createrole password 'own'`)
    await client.query('create database shelf owner breeder')
  })
  ownerUrl = as('breeder', 'own')
})

afterAll(() => cluster.remove())

describe('a server of one’s own', () => {
  it('is prepared by an owner who may make roles; what he may not do is handed back as SQL', async () => {
    const { applied, kept } = await prepareDatabase(ownerUrl, passwords)
    expect(applied.length).toBeGreaterThan(0)
    expect(kept).toEqual(['alter role oothecary_backup bypassrls;'])
    const again = await prepareDatabase(ownerUrl, passwords)
    expect(again).toEqual({ applied: [], kept: ['alter role oothecary_backup bypassrls;'] })
  })

  it('has nothing left to hand back once a superuser has run that SQL', async () => {
    await withClient(cluster.adminUrl, (client) => client.query('alter role oothecary_backup bypassrls'))
    expect((await prepareDatabase(ownerUrl, passwords)).kept).toEqual([])
  })

  it('gives nobody but the backup a way past the locks, and nobody a table but the owner', async () => {
    await withClient(cluster.adminUrl, async (client) => {
      const { rows } = await client.query(
        `select rolname, rolsuper, rolbypassrls, rolcreaterole, rolcreatedb, rolcanlogin
         from pg_roles where rolname like 'oothecary\\_%' and rolname <> 'oothecary_admin' order by 1`,
      )
      const flags = { rolsuper: false, rolbypassrls: false, rolcreaterole: false, rolcreatedb: false }
      expect(rows).toEqual([
        { ...flags, rolname: 'oothecary_app', rolcanlogin: true },
        { ...flags, rolname: 'oothecary_auth', rolcanlogin: true },
        { ...flags, rolname: 'oothecary_backup', rolbypassrls: true, rolcanlogin: true },
        { ...flags, rolname: 'oothecary_jobs', rolcanlogin: true },
        { ...flags, rolname: 'oothecary_owner', rolcanlogin: false },
      ])
    })
    await withClient(as('breeder', 'own'), async (client) => {
      const { rows } = await client.query(
        `select schemaname, array_agg(distinct tableowner::text) as owners from pg_tables
         where schemaname in ('public', 'graphile_worker') group by 1 order by 1`,
      )
      expect(rows).toEqual([
        { schemaname: 'graphile_worker', owners: ['oothecary_jobs'] },
        { schemaname: 'public', owners: ['oothecary_owner'] },
      ])
    })
  })

  it('lets the jobs keep their own schema and make no other', async () => {
    await withClient(as('oothecary_jobs', 'a3'), async (client) => {
      await expect(client.query('create schema another')).rejects.toThrow(/permission denied/)
      await expect(client.query('select * from public.individual')).rejects.toThrow(/permission denied/)
    })
  })

  it('takes new passwords when nobody uses the old ones', async () => {
    const other = { ...passwords, app: randomBytes(9).toString('hex') }
    await prepareDatabase(ownerUrl, other)
    await withClient(as('oothecary_app', other.app), (client) => client.query('select 1'))
  })

  it('does not lock out another installation that is running on the same server', async () => {
    await prepareDatabase(ownerUrl, passwords)
    await withClient(as('oothecary_app', 'a1'), async () => {
      const other = { ...passwords, app: 'somebody else' }
      await expect(prepareDatabase(ownerUrl, other)).rejects.toThrow(/already serves another Oothecary/)
    })
  })

  it('takes the right past the locks away again from a role that was given it', async () => {
    await withClient(cluster.adminUrl, (client) => client.query('alter role oothecary_app bypassrls'))
    expect((await prepareDatabase(ownerUrl, passwords)).kept).toEqual([
      'alter role oothecary_app nosuperuser nobypassrls;',
    ])
    await prepareDatabase(cluster.adminUrl.replace('/postgres', '/shelf'), passwords)
    await withClient(cluster.adminUrl, async (client) => {
      const { rows } = await client.query(`select rolbypassrls from pg_roles where rolname = 'oothecary_app'`)
      expect(rows[0].rolbypassrls).toBe(false)
    })
  })

  it('says in a sentence what an owner lacks who may not make roles', async () => {
    await withClient(cluster.adminUrl, async (client) => {
      await client.query(`create role visitor login password 'v'`)
      await client.query('create database other owner visitor')
    })
    await expect(prepareDatabase(as('visitor', 'v', 'other'), passwords)).rejects.toThrow(
      /must own the database and have CREATEROLE/,
    )
  })
})
