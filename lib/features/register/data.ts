import type { PlainDate } from '@/lib/domain/calendar/date'
import type { PaperFacts } from '@/lib/domain/paper/paper'
import type { RateSum } from '@/lib/domain/sale/basket'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type Period = { from: PlainDate; until: PlainDate }

export type RegisterRow = {
  speciesId: string
  scientificName: string
  before: number
  born: number
  received: number
  sold: number
  givenAway: number
  died: number
  escaped: number
  unaccounted: number
  after: number
}

/**
 * What became of the animals of each species in a period, from the ledger alone: what was taken back is taken back here
 * too, on the day on which it was. One statement.
 */
export function listRegister(
  tx: Tx,
  workspaceId: WorkspaceId,
  { from, until }: Period,
): Promise<RegisterRow[]> {
  return tx.$queryRaw<RegisterRow[]>`
    with e as (
      select coalesce(c.species_id, i.species_id) as species_id, x.clutch_id is not null as bred, x."from", x."to",
        x.count, x."on" >= ${from}::date as within
      from head_count_entry x
      left join clutch c on c.workspace_id = x.workspace_id and c.id = x.clutch_id
      left join individual i on i.workspace_id = x.workspace_id and i.id = x.individual_id
      where x.workspace_id = ${workspaceId}::uuid and x."on" <= ${until}::date),
    moved as (
      select species_id, within, bred, s.state,
        sum(case when e."to" = s.state then e.count when e."from" = s.state then -e.count else 0 end)::int as net
      from e cross join unnest(enum_range(null::head_count_state)) as s(state)
      where e."to" = s.state or e."from" = s.state
      group by species_id, within, bred, s.state)
    select p.id as "speciesId", p.scientific_name as "scientificName",
      coalesce(sum(net) filter (where not within and state in ('together', 'single')), 0)::int as before,
      coalesce(-sum(net) filter (where within and state = 'uncounted' and bred), 0)::int as born,
      coalesce(-sum(net) filter (where within and state = 'uncounted' and not bred), 0)::int as received,
      coalesce(sum(net) filter (where within and state = 'sold'), 0)::int as sold,
      coalesce(sum(net) filter (where within and state = 'given_away'), 0)::int as "givenAway",
      coalesce(sum(net) filter (where within and state = 'dead'), 0)::int as died,
      coalesce(sum(net) filter (where within and state = 'escaped'), 0)::int as escaped,
      coalesce(sum(net) filter (where within and state = 'unaccounted'), 0)::int as unaccounted,
      coalesce(sum(net) filter (where state in ('together', 'single')), 0)::int as after
    from moved join species p on p.workspace_id = ${workspaceId}::uuid and p.id = moved.species_id
    group by p.id, p.scientific_name order by p.scientific_name`
}

/** Sales of a period by rate of tax, less what came back in it, whenever that was sold. */
export function listTaxSums(tx: Tx, workspaceId: WorkspaceId, { from, until }: Period): Promise<RateSum[]> {
  return tx.$queryRaw<RateSum[]>`
    with parts as (
      select l.tax_basis_points as rate, l.tax_minor as tax,
        l.price_minor + case when s.tax_included then 0 else l.tax_minor end as gross
      from sale s join sale_line l on l.workspace_id = s.workspace_id and l.sale_id = s.id
      where s.workspace_id = ${workspaceId}::uuid and s."on" between ${from}::date and ${until}::date
      union all
      select l.tax_basis_points, -b.tax_minor, -b.refund_minor
      from sale_return r
      join sale_return_line b on b.workspace_id = r.workspace_id and b.return_id = r.id
      join sale_line l on l.workspace_id = b.workspace_id and l.sale_id = b.sale_id and l.number = b.line_number
      where r.workspace_id = ${workspaceId}::uuid and r."on" between ${from}::date and ${until}::date)
    select rate as "taxBasisPoints", sum(gross - tax)::int as "netMinor", sum(tax)::int as "taxMinor",
      sum(gross)::int as "grossMinor"
    from parts group by rate order by rate`
}

/** What became of the egg cases of each species in a period. What came back from a sale counts on the day on which it did. */
export type EggCaseRegisterRow = {
  speciesId: string
  scientificName: string
  before: number
  laid: number
  received: number
  spent: number
  infertile: number
  wasps: number
  discarded: number
  givenAway: number
  sold: number
  after: number
}

/** One statement: each egg case came once, ended once, and may have been sold and brought back any number of times. */
export function listEggCaseRegister(
  tx: Tx,
  workspaceId: WorkspaceId,
  { from, until }: Period,
): Promise<EggCaseRegisterRow[]> {
  return tx.$queryRaw<EggCaseRegisterRow[]>`
    with e as (
      select species_id, coalesce(received_on, laid_on, laid_from) as "on",
        case when received_on is null then 'laid' else 'received' end as what, 1 as count, 1 as here
      from egg_case where workspace_id = ${workspaceId}::uuid
      union all
      select species_id, ended_on, "end"::text, 1, -1 from egg_case
      where workspace_id = ${workspaceId}::uuid and ended_on is not null and "end" <> 'sold'
      union all
      select x.species_id, s."on", 'sold', 1, -1
      from sale_line l
      join sale s on s.workspace_id = l.workspace_id and s.id = l.sale_id
      join egg_case x on x.workspace_id = l.workspace_id and x.id = l.egg_case_id
      where l.workspace_id = ${workspaceId}::uuid
      union all
      select x.species_id, r."on", 'sold', -1, 1
      from sale_return r
      join sale_return_line b on b.workspace_id = r.workspace_id and b.return_id = r.id and b.restocked
      join sale_line l on l.workspace_id = b.workspace_id and l.sale_id = b.sale_id and l.number = b.line_number
      join egg_case x on x.workspace_id = l.workspace_id and x.id = l.egg_case_id
      where r.workspace_id = ${workspaceId}::uuid)
    select p.id as "speciesId", p.scientific_name as "scientificName",
      coalesce(sum(here) filter (where "on" < ${from}::date), 0)::int as before,
      coalesce(sum(count) filter (where "on" >= ${from}::date and what = 'laid'), 0)::int as laid,
      coalesce(sum(count) filter (where "on" >= ${from}::date and what = 'received'), 0)::int as received,
      coalesce(sum(count) filter (where "on" >= ${from}::date and what = 'spent'), 0)::int as spent,
      coalesce(sum(count) filter (where "on" >= ${from}::date and what = 'infertile'), 0)::int as infertile,
      coalesce(sum(count) filter (where "on" >= ${from}::date and what = 'wasps'), 0)::int as wasps,
      coalesce(sum(count) filter (where "on" >= ${from}::date and what = 'discarded'), 0)::int as discarded,
      coalesce(sum(count) filter (where "on" >= ${from}::date and what = 'given_away'), 0)::int as "givenAway",
      coalesce(sum(count) filter (where "on" >= ${from}::date and what = 'sold'), 0)::int as sold,
      sum(here)::int as after
    from e join species p on p.workspace_id = ${workspaceId}::uuid and p.id = e.species_id
    where e."on" <= ${until}::date
    group by p.id, p.scientific_name order by p.scientific_name`
}

/** What became of the jars of each prey line in a period. A jar that was away never comes back onto the shelf. */
export type JarRegisterRow = {
  slug: string
  before: number
  started: number
  bought: number
  sold: number
  discarded: number
  after: number
}

/** One statement. */
export function listJarRegister(
  tx: Tx,
  workspaceId: WorkspaceId,
  { from, until }: Period,
): Promise<JarRegisterRow[]> {
  return tx.$queryRaw<JarRegisterRow[]>`
    with j as (
      select slug, started_on as "on", case when bought then 'bought' else 'started' end as what, 1 as here
      from culture where workspace_id = ${workspaceId}::uuid
      union all
      select slug, ended_on, "end"::text, -1 from culture
      where workspace_id = ${workspaceId}::uuid and ended_on is not null)
    select slug,
      coalesce(sum(here) filter (where "on" < ${from}::date), 0)::int as before,
      count(*) filter (where "on" >= ${from}::date and what = 'started')::int as started,
      count(*) filter (where "on" >= ${from}::date and what = 'bought')::int as bought,
      count(*) filter (where "on" >= ${from}::date and what = 'sold')::int as sold,
      count(*) filter (where "on" >= ${from}::date and what = 'discarded')::int as discarded,
      sum(here)::int as after
    from j where "on" <= ${until}::date group by slug order by slug`
}

export type MovementRow = {
  on: PlainDate
  what: string
  thing: 'animals' | 'egg case' | 'culture jar'
  /** the species, or the prey line of a jar */
  name: string
  /** the animal’s label, or the clutch’s, the egg case’s, the jar’s */
  label: string
  count: number
  /** from whom it came, or under which receipt it went */
  other: string
  /** what came with it, or went with it */
  papers: PaperFacts[]
  buyer: string
}

/**
 * Each movement of the period, for the inspector: earliest first. Buyers stand there only where they are asked for, papers
 * with what they came or went with.
 */
export function listMovements(
  tx: Tx,
  workspaceId: WorkspaceId,
  { from, until, hasBuyers, limit }: Period & { hasBuyers: boolean; limit: number },
): Promise<MovementRow[]> {
  return tx.$queryRaw<MovementRow[]>`
    with m as (
      select x."on", x.id, 'animals' as thing,
        case when x."from" = 'uncounted' then case when x.clutch_id is null then 'received' else 'born' end
          else replace(replace(x."to"::text, '_', ' '), 'dead', 'died') end as what,
        coalesce(c.species_id, i.species_id) as species_id, null as slug, coalesce(i.label, c.label, '') as label, x.count,
        case when x."from" = 'uncounted' then coalesce(i.supplier, '')
          when x."to" = 'given_away' then x.note else '' end as other,
        l.sale_id, x.individual_id, null::uuid as egg_case_id, x."from" = 'uncounted' as came
      from head_count_entry x
      left join clutch c on c.workspace_id = x.workspace_id and c.id = x.clutch_id
      left join individual i on i.workspace_id = x.workspace_id and i.id = x.individual_id
      left join sale_line l on l.workspace_id = x.workspace_id and l.entry_id = x.id
      where x.workspace_id = ${workspaceId}::uuid and x."on" between ${from}::date and ${until}::date
        and x.reverses is null
        and not exists (select from head_count_entry r where r.workspace_id = x.workspace_id and r.reverses = x.id)
        and (x."from" = 'uncounted' or x."to" in ('sold', 'given_away', 'dead', 'escaped'))
      union all
      select coalesce(e.received_on, e.laid_on, e.laid_from), e.id, 'egg case',
        case when e.received_on is null then 'laid' else 'received' end, e.species_id, null, e.label, 1,
        concat_ws(', lot ', nullif(e.supplier, ''), nullif(e.lot, '')), null, null, e.id, true
      from egg_case e
      where e.workspace_id = ${workspaceId}::uuid
        and coalesce(e.received_on, e.laid_on, e.laid_from) between ${from}::date and ${until}::date
      union all
      select e.ended_on, e.id, 'egg case', replace(e."end"::text, '_', ' '), e.species_id, null, e.label, 1, '', null, null,
        e.id, false
      from egg_case e
      where e.workspace_id = ${workspaceId}::uuid and e."end" <> 'sold'
        and e.ended_on between ${from}::date and ${until}::date
      union all
      select u.started_on, u.id, 'culture jar', case when u.bought then 'bought' else 'started' end, null, u.slug, u.label, 1,
        '', null, null, null, true
      from culture u
      where u.workspace_id = ${workspaceId}::uuid and u.started_on between ${from}::date and ${until}::date
      union all
      select u.ended_on, u.id, 'culture jar', u."end"::text, null, u.slug, u.label, 1, '', null, null, null, false
      from culture u
      where u.workspace_id = ${workspaceId}::uuid and u.ended_on between ${from}::date and ${until}::date
        and not exists (select from sale_line l where l.workspace_id = u.workspace_id and l.culture_id = u.id)
      union all
      select s."on", s.id, case when l.culture_id is null then 'egg case' else 'culture jar' end, 'sold', e.species_id, u.slug,
        coalesce(e.label, u.label), 1, '', s.id, null, l.egg_case_id, false
      from sale_line l
      join sale s on s.workspace_id = l.workspace_id and s.id = l.sale_id
      left join egg_case e on e.workspace_id = l.workspace_id and e.id = l.egg_case_id
      left join culture u on u.workspace_id = l.workspace_id and u.id = l.culture_id
      where l.workspace_id = ${workspaceId}::uuid and s."on" between ${from}::date and ${until}::date
        and (l.culture_id is not null or (l.egg_case_id is not null and l.returned = 0)))
    select m."on"::text as "on", m.what, m.thing, coalesce(p.scientific_name, m.slug) as name, m.label, m.count,
      case when s.id is null then m.other
        else 'receipt ' || case s.series when '' then '' else s.series || '-' end || s.receipt_number end as other,
      (select coalesce(json_agg(json_build_object('kind', d.kind, 'number', d.number, 'on', d.dated_on) order by d.id), '[]')
        from paper d
        where d.workspace_id = ${workspaceId}::uuid and d.archived_at is null and case
          when m.came then d.sale_id is null and (d.individual_id = m.individual_id or d.egg_case_id = m.egg_case_id)
          else d.sale_id = m.sale_id and (coalesce(d.individual_id, d.egg_case_id) is null
            or d.individual_id = m.individual_id or d.egg_case_id = m.egg_case_id) end) as papers,
      case when ${hasBuyers} and s.buyer_id is not null then coalesce(n.name, '') else '' end as buyer
    from m
    left join species p on p.workspace_id = ${workspaceId}::uuid and p.id = m.species_id
    left join sale s on s.workspace_id = ${workspaceId}::uuid and s.id = m.sale_id
    left join buyer_person n on n.workspace_id = s.workspace_id and n.buyer_id = s.buyer_id
    order by m."on", m.id, m.label limit ${limit}`
}

/** A paper with what it came or went with, on the day on which that did. */
export type PaperRegisterRow = PaperFacts & {
  id: string
  movedOn: PlainDate
  came: boolean
  /** empty where it is for a whole receipt */
  scientificName: string
  label: string
  receipt: string
}

/** The papers of what came and went in a period, earliest first. */
export function listPaperRegister(
  tx: Tx,
  workspaceId: WorkspaceId,
  { from, until, limit }: Period & { limit: number },
): Promise<PaperRegisterRow[]> {
  return tx.$queryRaw<PaperRegisterRow[]>`
    with d as (
      select x.*, coalesce(s."on", i.baseline_on, e.received_on, e.laid_on, e.laid_from) as moved_on,
        coalesce(i.label, e.label, '') as label, coalesce(i.species_id, e.species_id) as species_id,
        coalesce(case s.series when '' then '' else s.series || '-' end || s.receipt_number, '') as receipt
      from paper x
      left join sale s on s.workspace_id = x.workspace_id and s.id = x.sale_id
      left join individual i on i.workspace_id = x.workspace_id and i.id = x.individual_id
      left join egg_case e on e.workspace_id = x.workspace_id and e.id = x.egg_case_id
      where x.workspace_id = ${workspaceId}::uuid and x.archived_at is null)
    select d.id, d.kind::text as kind, d.number, d.dated_on::text as "on", d.moved_on::text as "movedOn", d.sale_id is null as came,
      coalesce(p.scientific_name, '') as "scientificName", d.label, d.receipt
    from d left join species p on p.workspace_id = ${workspaceId}::uuid and p.id = d.species_id
    where d.moved_on between ${from}::date and ${until}::date
    order by d.moved_on, d.id limit ${limit}`
}
