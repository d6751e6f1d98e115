import type pg from 'pg'

/** What no second workspace can have a copy of, or that a list never reads. */
const LEFT_OUT = ['api_token', 'workspace_slug', 'operation', 'audit_entry', 'invitation', 'mail_message']

async function listCopied(client: pg.Client): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>(`
    select c.relname::text as name from pg_class c
    join pg_attribute a on a.attrelid = c.oid and a.attname = 'workspace_id' and not a.attisdropped
    where c.relkind = 'r' and c.relnamespace = 'public'::regnamespace order by 1`)
  return rows.map(({ name }) => name).filter((name) => !LEFT_OUT.includes(name))
}

/** As a restore does it: rows as they are, without what the triggers would do again. */
async function inBulk(client: pg.Client, work: () => Promise<unknown>): Promise<void> {
  await client.query(`set session_replication_role = replica`)
  await work()
  await client.query(`set session_replication_role = origin`)
}

/** The same workspace over and over, each with everything that is in it. */
export async function copyWorkspace(client: pg.Client, workspaceId: string, copies: number): Promise<void> {
  const tables = await listCopied(client)
  await client.query(
    `create temp table copies as select gen_random_uuid() as id from generate_series(1, ${copies})`,
  )
  await inBulk(client, async () => {
    for (const table of tables)
      await client.query(
        `insert into ${table} select made.* from ${table} t cross join copies w cross join lateral
           jsonb_populate_record(null::${table}, to_jsonb(t) || jsonb_build_object('workspace_id', w.id${table === 'workspace' ? `, 'slug', w.id` : ''})) made
         where t.workspace_id = $1`,
        [workspaceId],
      )
  })
}

/** Every animal of a workspace so many times more, each with a cup, a place and its moults. */
export async function copyAnimals(client: pg.Client, workspaceId: string, copies: number): Promise<void> {
  await client.query(
    `create temp table twins as
     select i.id as of, uuidv7() as id, uuidv7() as cup, i.label || 'X' || n as label
     from individual i cross join generate_series(1, ${copies}) n where i.workspace_id = $1`,
    [workspaceId],
  )
  const fill = (table: string, join: string, changed: string) =>
    client.query(
      `insert into ${table} select made.* from ${table} t join ${join} cross join lateral
         jsonb_populate_record(null::${table}, to_jsonb(t) || jsonb_build_object(${changed})) made
       where t.workspace_id = $1`,
      [workspaceId],
    )
  await inBulk(client, async () => {
    await fill('individual', 'twins on twins.of = t.id', `'id', twins.id, 'label', twins.label`)
    const atHome = `housing h on h.workspace_id = t.workspace_id and h.container_id = t.id join twins on twins.of = h.individual_id`
    await fill('container', atHome, `'id', twins.cup`)
    const moved = `'id', uuidv7(), 'individual_id', twins.id`
    await fill('housing', 'twins on twins.of = t.individual_id', `${moved}, 'container_id', twins.cup`)
    await fill('moult', 'twins on twins.of = t.individual_id', moved)
  })
  await client.query('analyze')
}
