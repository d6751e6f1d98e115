import { describe, expect, it } from 'vitest'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()

async function list(sql: string): Promise<string[]> {
  const { rows } = await withClient(database.urls.admin, (client) =>
    client.query({ text: sql, rowMode: 'array' }),
  )
  return rows.map((row) => row.join(' '))
}

const grantsOn = (role: string, privilege: string) =>
  list(`select c.relname from pg_class c
    where c.relnamespace in ('public'::regnamespace, 'app'::regnamespace) and c.relkind in ('r', 'p', 'v', 'm', 'S', 'f')
      and has_table_privilege('oothecary_${role}', c.oid, '${privilege}') order by 1`)

const tables = () =>
  list(
    `select relname from pg_class where relnamespace = 'public'::regnamespace and relkind = 'r' order by 1`,
  )

const PEOPLE = ['login_session', 'password_reset', 'person', 'recovery_code', 'throttle']
const SHARED = [
  'api_token',
  'calendar_feed',
  'day_mail',
  'invitation',
  'membership',
  'public_link',
  'watch_look',
  'workspace',
  'workspace_slug',
]

describe('the role the service works as', () => {
  it('erases nothing: records are archived or reversed', async () => {
    expect(await grantsOn('app', 'DELETE')).toEqual([])
  })

  it.each(['TRUNCATE', 'REFERENCES', 'TRIGGER', 'MAINTAIN'])('has no %s either', async (privilege) => {
    expect(await grantsOn('app', privilege)).toEqual([])
  })

  it('reads every table of a workspace and nothing about people', async () => {
    const expected = (await tables()).filter((table) => ![...PEOPLE, '_prisma_migrations'].includes(table))
    expect(await grantsOn('app', 'SELECT')).toEqual(expected)
  })

  it('never changes what was written down for good', async () => {
    const changeable = await grantsOn('app', 'UPDATE')
    const forGood = [
      'audit_entry',
      'care_profile',
      'care_sheet',
      'feeding',
      'hatch',
      'head_count',
      'head_count_entry',
      'order_payment',
      'photo_content',
      'sale',
      'sale_line',
      'sale_payment',
      'sale_return',
      'sale_return_line',
      'sale_reversal',
      'sheet_lot',
      'workspace_slug',
    ]
    expect(changeable.filter((table) => forGood.includes(table))).toEqual([])
    expect(await grantsOn('app', 'INSERT')).not.toContain('audit_entry')
    expect(await grantsOn('app', 'INSERT')).not.toContain('head_count')
  })

  it('moves an animal by the ledger alone: not its whereabouts, its clutch, its label or its workspace', async () => {
    const columns = await list(`select a.attname from pg_attribute a where a.attrelid = 'individual'::regclass
      and a.attnum > 0 and has_column_privilege('oothecary_app', a.attrelid, a.attnum, 'UPDATE') order by 1`)
    for (const fixed of ['workspace_id', 'id', 'whereabouts', 'clutch_id', 'label', 'created_at'])
      expect(columns).not.toContain(fixed)
    expect(columns).toContain('sex')
  })
})

describe('the role of the sign-in', () => {
  it('has people and devices for itself and only looks up the rest', async () => {
    expect(await grantsOn('auth', 'SELECT')).toEqual([...PEOPLE, ...SHARED].sort())
    for (const privilege of ['INSERT', 'UPDATE', 'DELETE'])
      expect(await grantsOn('auth', privilege)).toEqual(PEOPLE)
    expect(await grantsOn('auth', 'TRUNCATE')).toEqual([])
  })
})

describe('the other roles', () => {
  it('let the queue read no record, and the backup read all and change none', async () => {
    for (const privilege of ['SELECT', 'INSERT', 'UPDATE', 'DELETE', 'TRUNCATE'])
      expect(await grantsOn('jobs', privilege)).toEqual([])
    expect(await grantsOn('backup', 'SELECT')).toEqual(await tables())
    for (const privilege of ['INSERT', 'UPDATE', 'DELETE', 'TRUNCATE'])
      expect(await grantsOn('backup', privilege)).toEqual([])
  })

  it('cannot step over row-level security, the backup excepted, which only reads', async () => {
    const roles =
      await list(`select rolname, rolsuper, rolbypassrls, rolcreaterole, rolcreatedb, rolreplication
      from pg_roles where rolname like 'oothecary\\_%' and rolname <> 'oothecary_admin' order by 1`)
    expect(roles).toEqual([
      'oothecary_app false false false false false',
      'oothecary_auth false false false false false',
      'oothecary_backup false true false false false',
      'oothecary_jobs false false false false false',
      'oothecary_owner false false false false false',
    ])
  })

  it('cannot become one another, the owner excepted, who may become the queue', async () => {
    const steps = await list(`select m.member::regrole, m.roleid::regrole from pg_auth_members m
      where m.member::regrole::text like 'oothecary\\_%' and m.member::regrole::text <> 'oothecary_admin'`)
    expect(steps).toEqual(['oothecary_owner oothecary_jobs'])
  })

  it('own no table and may make none', async () => {
    const owners = await list(`select distinct relowner::regrole from pg_class
      where relnamespace in ('public'::regnamespace, 'app'::regnamespace)`)
    expect(owners).toEqual(['oothecary_owner'])
    const makers = await list(`select r.rolname, n.nspname from pg_roles r, pg_namespace n
      where r.rolname in ('oothecary_app', 'oothecary_auth', 'oothecary_jobs', 'oothecary_backup')
        and n.nspname in ('public', 'app') and has_schema_privilege(r.oid, n.oid, 'CREATE')`)
    expect(makers).toEqual([])
  })
})
