import type pg from 'pg'
import type { Removal } from './removal'

const LINKS = ['tests/isolation/links.test.ts']
const LEDGER = ['tests/isolation/ledger.test.ts']
const APART = ['tests/isolation/never-together.test.ts']
const RULES = ['tests/isolation/rules.test.ts']
const CATALOGUE = ['tests/isolation/catalogue.test.ts']
const GRANTS = ['tests/isolation/grants.test.ts']
const TESTS_OF_TRIGGER: Record<string, string[]> = {
  audit: CATALOGUE,
  audit_correction: ['tests/features/reading.test.ts'],
  evidence_added: CATALOGUE,
  evidence_changed: CATALOGUE,
  food_added: CATALOGUE,
  food_changed: CATALOGUE,
  keep_apart: APART,
  return_line: ['tests/features/basket.test.ts'],
  return_payment: ['tests/features/order-goods.test.ts'],
}
const TRAPS = ['tests/isolation/traps.test.ts']
const SCHEMA = ['tests/ops/schema.test.ts']

/** Every policy, constraint, key, trigger and missing grant of the database, each as its removal. */
export async function listDatabaseGuards(client: pg.Client): Promise<Removal[]> {
  const list = async (sql: string) =>
    (await client.query<{ table: string; name: string; kind: string }>(sql)).rows
  const closed = await list(`select c.relname as table, '' as name, '' as kind from pg_class c
    where c.relnamespace = 'public'::regnamespace and c.relrowsecurity`)
  const constraints =
    await list(`select conrelid::regclass::text as table, conname as name, contype::text as kind
    from pg_constraint where connamespace = 'public'::regnamespace and contype in ('c', 'x', 'f')`)
  const keys =
    await list(`select i.indrelid::regclass::text as table, i.indexrelid::regclass::text as name, '' as kind
    from pg_index i join pg_class c on c.oid = i.indrelid
    where c.relnamespace = 'public'::regnamespace and i.indisunique and not i.indisprimary
      and not exists (select from pg_constraint k where k.conindid = i.indexrelid)`)
  const triggers =
    await list(`select tgrelid::regclass::text as table, tgname as name, '' as kind from pg_trigger
    where not tgisinternal and tgrelid::regclass::text not like 'graphile%'`)
  return [
    ...closed.flatMap(({ table }) => closing(table)),
    ...constraints.map(({ table, name, kind }) => ({
      guard: `${name} of ${table}`,
      tests: kind === 'f' ? SCHEMA : RULES,
      sql: `alter table ${table} drop constraint "${name}"`,
    })),
    ...keys.map(({ name }) => ({ guard: `the key ${name}`, tests: SCHEMA, sql: `drop index ${name}` })),
    ...triggers.map(({ table, name }) => ({
      guard: `the trigger ${name} of ${table}`,
      tests: TESTS_OF_TRIGGER[name] ?? LEDGER,
      sql: `alter table ${table} disable trigger "${name}"`,
    })),
    ...GIVEN,
  ]
}

function closing(table: string): Removal[] {
  return [
    {
      guard: `row-level security of ${table}`,
      tests: LINKS,
      sql: `alter table ${table} disable row level security`,
    },
    {
      guard: `the policy of ${table} for what is written`,
      tests: LINKS,
      sql: `alter policy own_workspace on ${table} with check (true)`,
    },
    {
      guard: `the policy of ${table} for what is read`,
      tests: LINKS,
      sql: `alter policy own_workspace on ${table} using (true)`,
    },
    {
      guard: `the force on ${table}`,
      tests: CATALOGUE,
      sql: `alter table ${table} no force row level security`,
    },
  ]
}

/** What a role may not do, given to it, and what ends with a transaction, kept beyond it. */
const GIVEN: Removal[] = [
  {
    guard: 'that a workspace is left with its transaction',
    tests: TRAPS,
    sql: `do $$ begin execute replace(pg_get_functiondef('app.enter_workspace(text,text,text)'::regprocedure),
      'entered, true)', 'entered, false)'); end $$`,
  },
  { guard: 'that nothing is erased', tests: GRANTS, sql: 'grant delete on sale to oothecary_app' },
  {
    guard: 'that whereabouts move by the ledger',
    tests: GRANTS,
    sql: 'grant update (whereabouts) on individual to oothecary_app',
  },
  {
    guard: 'that the ledger is never edited',
    tests: GRANTS,
    sql: 'grant update on head_count_entry to oothecary_app',
  },
  {
    guard: 'that the head count is kept by its trigger',
    tests: GRANTS,
    sql: 'grant update on head_count to oothecary_app',
  },
  {
    guard: 'that the audit trail is never edited',
    tests: GRANTS,
    sql: 'grant update on audit_entry to oothecary_app',
  },
  {
    guard: 'that people belong to the sign-in',
    tests: GRANTS,
    sql: 'grant select on person to oothecary_app',
  },
  { guard: 'that the queue reads no record', tests: GRANTS, sql: 'grant select on sale to oothecary_jobs' },
  {
    guard: 'that no workspace is an error',
    tests: LINKS,
    sql: `create or replace function app.workspace() returns uuid language sql stable parallel safe
      set search_path = pg_catalog as $$ select nullif(current_setting('app.workspace_id', true), '')::uuid $$`,
  },
]
