/**
 * What must be true of every table, key, policy and function, each as a query that lists the offences. `planted` is
 * what somebody might do by oversight: after it the same query has to list something.
 */
export type CatalogueRule = { sentence: string; offences: string; exempt: string[]; planted: string[] }

/** Tables of the service; the queue lives in a schema of its own. */
const TABLES = `(select c.oid, c.relname, c.relrowsecurity, c.relforcerowsecurity, c.relowner
  from pg_class c where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p'))`

/** What belongs to no workspace: people, their devices and ways back in (the sign-in's own), and the bookkeeping of migrations. */
const OUTSIDE = [
  'person',
  'login_session',
  'password_reset',
  'recovery_code',
  'throttle',
  '_prisma_migrations',
]

const firstColumn = (keys: string, relation: string) =>
  `(select a.attname from pg_attribute a where a.attrelid = ${relation} and a.attnum = (${keys})[1])`

export const CATALOGUE_RULES: CatalogueRule[] = [
  {
    sentence: 'every table says in each row whose it is',
    offences: `select t.relname from ${TABLES} t where not exists (
      select from pg_attribute a
      where a.attrelid = t.oid and a.attname = 'workspace_id' and a.attnotnull and a.atttypid = 'uuid'::regtype)`,
    exempt: OUTSIDE,
    planted: [
      'create table note (id uuid primary key)',
      'alter table feeding drop constraint feeding_pkey; alter table feeding alter workspace_id drop not null',
    ],
  },
  {
    sentence: 'every primary key begins with the workspace',
    offences: `select t.relname from ${TABLES} t left join pg_constraint k on k.conrelid = t.oid and k.contype = 'p'
      where coalesce(${firstColumn('k.conkey', 't.oid')}, '') <> 'workspace_id'`,
    // A slug is an address of the whole service.
    exempt: [...OUTSIDE, 'workspace_slug'],
    planted: [
      'alter table feeding drop constraint feeding_pkey, add primary key (id, workspace_id)',
      'alter table feeding drop constraint feeding_pkey',
    ],
  },
  {
    sentence: 'every unique key begins with the workspace',
    offences: `select i.indexrelid::regclass::text from ${TABLES} t join pg_index i on i.indrelid = t.oid
      where i.indisunique and coalesce(${firstColumn('i.indkey::int2[]', 't.oid').replace('[1]', '[0]')}, '') <> 'workspace_id'`,
    // What a look-up starts from before it knows the workspace: an address, and secrets by their hash.
    exempt: [
      ...OUTSIDE.map((table) => `${table}_pkey`),
      'person_email_key',
      'login_session_id_hash_key',
      'password_reset_token_hash_key',
      'workspace_slug_pkey',
      'invitation_token_hash_key',
      'api_token_token_hash_key',
      'public_link_token_hash_key',
      'calendar_feed_token_hash_key',
    ],
    planted: ['create unique index zone_everywhere on zone (name)'],
  },
  {
    sentence: 'every link names the workspace first, on both of its ends',
    offences: `select k.conname from pg_constraint k join ${TABLES} t on t.oid = k.conrelid
      where k.contype = 'f' and (${firstColumn('k.conkey', 'k.conrelid')} <> 'workspace_id'
        or ${firstColumn('k.confkey', 'k.confrelid')} <> 'workspace_id')`,
    exempt: ['login_session_person_fkey', 'password_reset_person_fkey', 'recovery_code_person_fkey'],
    planted: [
      'create table note (workspace_id uuid not null, zone_id uuid, foreign key (zone_id, workspace_id) references zone (id, workspace_id))',
    ].map((sql) => `create unique index turned on zone (id, workspace_id); ${sql}`),
  },
  {
    sentence: 'no link carries a change or an erasure over to other records',
    offences: `select k.conname from pg_constraint k join ${TABLES} t on t.oid = k.conrelid
      where k.contype = 'f' and (k.confdeltype not in ('r', 'a') or k.confupdtype not in ('r', 'a') or not k.convalidated)`,
    exempt: ['login_session_person_fkey', 'password_reset_person_fkey', 'recovery_code_person_fkey'],
    planted: [
      'reset role; alter table moult drop constraint moult_individual_fkey, add foreign key (workspace_id, individual_id) references individual on delete cascade',
    ],
  },
  {
    sentence: 'every rule against overlaps begins with the workspace',
    offences: `select k.conname from pg_constraint k join ${TABLES} t on t.oid = k.conrelid
      where k.contype = 'x' and ${firstColumn('k.conkey', 'k.conrelid')} <> 'workspace_id'`,
    exempt: [],
    planted: [
      'alter table housing add exclude using gist (container_id with =, daterange(from_on, until_on) with &&)',
    ],
  },
  {
    sentence: 'row-level security is on, and holds the owner too',
    offences: `select t.relname from ${TABLES} t where not (t.relrowsecurity and t.relforcerowsecurity)`,
    exempt: OUTSIDE,
    planted: [
      'alter table moult disable row level security',
      'alter table moult no force row level security',
      'create table note (workspace_id uuid)',
    ],
  },
  {
    sentence: 'one policy reads and writes by the workspace of the transaction',
    offences: `select t.relname from ${TABLES} t where not exists (
      select from pg_policy p where p.polrelid = t.oid and p.polname = 'own_workspace' and p.polcmd = '*'
        and p.polpermissive
        and pg_get_expr(p.polqual, p.polrelid) = '(workspace_id = ( SELECT app.workspace() AS workspace))'
        and pg_get_expr(p.polwithcheck, p.polrelid) = '(workspace_id = ( SELECT app.workspace() AS workspace))'
        and (select array_agg(r::regrole::text order by 1) from unnest(p.polroles) r)
          = array['oothecary_app', 'oothecary_owner'])`,
    exempt: OUTSIDE,
    planted: [
      'drop policy own_workspace on sale',
      'alter policy own_workspace on sale using (true)',
      'alter policy own_workspace on sale with check (true)',
      'alter policy own_workspace on sale to oothecary_app, oothecary_owner, oothecary_auth',
    ],
  },
  {
    sentence: 'no other policy lets anybody in',
    offences: `select p.polrelid::regclass::text || ' ' || p.polname from pg_policy p
      where p.polname <> 'own_workspace' or p.polrelid not in (select oid from ${TABLES} t)`,
    exempt: [
      'workspace',
      'workspace_slug',
      'membership',
      'invitation',
      'api_token',
      'public_link',
      'watch_look',
      'calendar_feed',
      'day_mail',
    ].map((table) => `${table} look_up`),
    planted: ['create policy everyone on sale for select using (true)'],
  },
  {
    sentence: 'the look-up of the sign-in reads and changes nothing',
    offences: `select p.polrelid::regclass::text from pg_policy p where p.polname = 'look_up'
      and (p.polcmd <> 'r' or p.polroles <> array['oothecary_auth'::regrole::oid])`,
    exempt: [],
    planted: [
      'drop policy look_up on workspace; create policy look_up on workspace to oothecary_auth using (true)',
      'alter policy look_up on workspace to public',
    ],
  },
  {
    sentence: 'every change of a workspace table is written to the audit trail',
    offences: `select t.relname from ${TABLES} t where not exists (
      select from pg_trigger g where g.tgrelid = t.oid and g.tgname = 'audit' and g.tgenabled = 'O'
        and g.tgfoid = 'app.write_audit_entry()'::regprocedure and g.tgtype = 1 | 4 | 8 | 16 and g.tgqual is null)`,
    // The person behind a buyer, of whom the trail keeps only that they changed. Sums and series that follow from other rows, the keys of requests, plans, the trail itself; and readings, which come by
    // the thousand: their batch is on the trail, and each correction of one.
    exempt: [
      ...OUTSIDE,
      'animal_growth',
      'audit_entry',
      'buyer_person',
      'calendar_date',
      'order_address',
      'paper',
      'clutch_growth',
      'counter',
      'food_plan',
      'growth_fit',
      'head_count',
      'operation',
      'past_window_month',
      'photo_content',
      'reading',
      'sheet_batch_file',
      'watch_look',
      'zone_day',
    ],
    planted: ['drop trigger audit on sale', 'alter table sale disable trigger audit'],
  },
  {
    sentence: 'what forecasts are learned from asks for a new fit when it is added to and when it is changed',
    offences: `select w.name || ' ' || e.name from unnest(array['care_profile', 'clutch', 'clutch_housing',
        'clutch_observation', 'egg_case', 'egg_case_stay', 'feeding', 'hatch', 'head_count_entry', 'housing',
        'individual', 'look', 'moult', 'zone_day', 'zone_set_point']) w(name),
        (values ('evidence_added', 4), ('evidence_changed', 16)) e(name, type)
      where not exists (select from pg_trigger g where g.tgrelid = w.name::regclass and g.tgname = e.name
        and g.tgenabled = 'O' and g.tgtype = e.type and g.tgfoid = 'app.note_evidence()'::regprocedure
        and g.tgnewtable = 'changed')`,
    exempt: [],
    planted: ['drop trigger evidence_added on look', 'alter table moult disable trigger evidence_changed'],
  },
  {
    sentence:
      'what a plan of live food is made from asks for a new one when it is added to and when it is changed',
    offences: `select w.name || ' ' || e.name from unnest(array['culture', 'egg_case', 'food_closed_day',
        'food_limits', 'growth_fit', 'harvest', 'hatch', 'head_count_entry', 'other_mouth', 'prey_count',
        'prey_departure', 'prey_line', 'prey_line_version', 'prey_order']) w(name),
        (values ('food_added', 4), ('food_changed', 16)) e(name, type)
      where not exists (select from pg_trigger g where g.tgrelid = w.name::regclass and g.tgname = e.name
        and g.tgenabled = 'O' and g.tgtype = e.type and g.tgfoid = 'app.note_food_change()'::regprocedure
        and g.tgnewtable = 'changed')`,
    exempt: [],
    planted: ['drop trigger food_added on egg_case', 'alter table harvest disable trigger food_changed'],
  },
  {
    sentence: 'what runs with its owner’s rights is on the list',
    offences: `select p.oid::regprocedure::text from pg_proc p
      where p.prosecdef and p.pronamespace in ('public'::regnamespace, 'app'::regnamespace)`,
    exempt: [
      'app.write_audit_entry()',
      'app.open_head_count()',
      'app.move_in_ledger()',
      'app.return_line()',
      'app.return_payment()',
      'app.dequeue(text,jsonb)',
      'app.enqueue(text,jsonb)',
      'app.enqueue_at(text,jsonb,timestamp with time zone)',
      'app.enqueue_past_windows(uuid)',
      'app.enqueue_refit(uuid,interval)',
      'app.enqueue_replan(interval)',
    ],
    planted: [
      'create function app.peek() returns bigint language sql security definer as $$ select count(*) from sale $$',
    ],
  },
  {
    sentence: 'every function has its search path fixed, so that no table can be slipped in before ours',
    offences: `select p.oid::regprocedure::text from pg_proc p
      where p.pronamespace in ('public'::regnamespace, 'app'::regnamespace)
        and not exists (select from pg_depend d where d.objid = p.oid and d.deptype = 'e')
        and not exists (select from unnest(p.proconfig) c where c in ('search_path=pg_catalog', 'search_path=pg_catalog, public'))`,
    exempt: [],
    planted: [
      'alter function app.person() reset search_path',
      'alter function app.move_in_ledger() set search_path = public, pg_catalog',
    ],
  },
  {
    sentence: 'nobody but the named roles may call a function',
    offences: `select p.oid::regprocedure::text from pg_proc p
      where p.pronamespace in ('public'::regnamespace, 'app'::regnamespace)
        and not exists (select from pg_depend d where d.objid = p.oid and d.deptype = 'e')
        and (p.proacl is null or exists (select from aclexplode(p.proacl) a where a.grantee = 0))`,
    exempt: [],
    planted: ['grant execute on function app.enqueue(text, jsonb) to public'],
  },
  {
    sentence: 'there is no view that sees more than who asks it, and no copy that sees everything',
    offences: `select c.relname from pg_class c
      where c.relnamespace in ('public'::regnamespace, 'app'::regnamespace) and (c.relkind = 'm'
        or c.relkind = 'v' and not coalesce('security_invoker=true' = any(c.reloptions), false))`,
    exempt: [],
    planted: [
      'create view prices as select price_minor from sale_line',
      'create materialized view prices as select price_minor from sale_line with no data',
    ],
  },
]
