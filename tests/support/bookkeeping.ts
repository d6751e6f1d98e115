import type pg from 'pg'

/** Whatever runs one statement and gives its rows. */
export type Ask = <T extends object>(sql: string) => Promise<T[]>

export const askWith =
  (client: pg.Client): Ask =>
  async <T extends object>(sql: string) =>
    (await client.query<T>(sql)).rows

type Audited = { table: string; key: string[] }

export const listAudited = (ask: Ask) =>
  ask<Audited>(`
    select c.relname::text as table, array(
      select a.attname::text from unnest(k.conkey) n join pg_attribute a on a.attrelid = c.oid and a.attnum = n) as key
    from pg_trigger g join pg_class c on c.oid = g.tgrelid
    join pg_constraint k on k.conrelid = c.oid and k.contype = 'p'
    where g.tgname = 'audit' order by 1`)

/** A record's key as text, from the JSON that the trail keeps. */
const keyOf = ({ key }: Audited, json: string) =>
  key.map((column) => `((${json})->>'${column}')`).join(` || '/' || `)

/** How many records of a table the trail, replayed, gives, and how many of them differently from how they are. */
export async function replayAudit(ask: Ask, audited: Audited): Promise<{ compared: number; wrong: number }> {
  const [found] = await ask<{ compared: number; wrong: number }>(`
    with newest as (
      select distinct on (k) k, after from (
        select ${keyOf(audited, 'coalesce(after, before)')} as k, after, at, id
        from audit_entry where table_name = '${audited.table}') e
      order by k, at desc, id desc),
    present as (select ${keyOf(audited, 'to_jsonb(t)')} as k, to_jsonb(t) as row from ${audited.table} t)
    select count(*)::int as compared,
      count(*) filter (where newest.after is distinct from present.row)::int as wrong
    from (select * from newest where after is not null) newest full join present using (k)`)
  return found ?? { compared: 0, wrong: -1 }
}

/** Entries of the trail that do not begin where the one before them ended. */
export async function countAuditBreaks(ask: Ask, audited: Audited): Promise<number> {
  const [found] = await ask<{ broken: number }>(`
    select count(*)::int as broken from (
      select before, lag(after) over (partition by ${keyOf(audited, 'coalesce(after, before)')} order by at, id) as last
      from audit_entry where table_name = '${audited.table}') e
    where before is distinct from last`)
  return found?.broken ?? -1
}

/** Clutches whose row of the head count is not what their entries add up to, or does not sum. */
export const SUMS_THAT_DIFFER = `
  select h.clutch_id from head_count h
  where h.together <> (select coalesce(sum(case when e."to" = 'together' then e.count else 0 end
      - case when e."from" = 'together' then e.count else 0 end), 0)
    from head_count_entry e where e.workspace_id = h.workspace_id and e.clutch_id = h.clutch_id)
    or h.hatched <> h.together + h.single + h.sold + h.given_away + h.dead + h.escaped + h.unaccounted`

const RECEIPTS_WITH_A_GAP = `
  select workspace_id from sale group by workspace_id, series
  having max(receipt_number) <> count(*) or min(receipt_number) <> 1 or count(distinct receipt_number) <> count(*)`

/** What of the books does not add up, in words; nothing when all of it does. */
export async function listTroubles(ask: Ask): Promise<string[]> {
  const sums = await ask<{ clutch_id: string }>(SUMS_THAT_DIFFER)
  const gaps = await ask<{ workspace_id: string }>(RECEIPTS_WITH_A_GAP)
  const troubles = [
    ...sums.map((row) => `the head count of clutch ${row.clutch_id} does not sum`),
    ...gaps.map((row) => `the receipts of ${row.workspace_id} have a gap`),
  ]
  for (const audited of await listAudited(ask)) {
    const { wrong } = await replayAudit(ask, audited)
    const broken = await countAuditBreaks(ask, audited)
    if (wrong !== 0 || broken !== 0)
      troubles.push(
        `the audit trail of ${audited.table}: ${wrong} records differ, ${broken} steps are missed`,
      )
  }
  return troubles
}
