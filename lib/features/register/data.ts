import type { PlainDate } from '@/lib/domain/calendar/date'
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

export type MovementRow = {
  on: PlainDate
  what: 'born' | 'received' | 'sold' | 'given away' | 'died' | 'escaped'
  scientificName: string
  /** the animal’s label, or the clutch’s */
  label: string
  count: number
  /** from whom it came, or under which receipt it went */
  other: string
  buyer: string
}

/** Each movement of the period, for the inspector: earliest first. Buyers stand there only where they are asked for. */
export function listMovements(
  tx: Tx,
  workspaceId: WorkspaceId,
  { from, until, hasBuyers, limit }: Period & { hasBuyers: boolean; limit: number },
): Promise<MovementRow[]> {
  return tx.$queryRaw<MovementRow[]>`
    select x."on"::text as "on",
      case when x."from" = 'uncounted' then case when x.clutch_id is null then 'received' else 'born' end
        else replace(replace(x."to"::text, '_', ' '), 'dead', 'died') end as what,
      p.scientific_name as "scientificName", coalesce(i.label, c.label, '') as label, x.count,
      case when x."from" = 'uncounted' then coalesce(i.supplier, '')
        when x."to" = 'given_away' then x.note
        when s.receipt_number is not null then 'receipt ' || case s.series when '' then '' else s.series || '-' end || s.receipt_number else '' end as other,
      case when ${hasBuyers} and s.buyer_id is not null then coalesce(n.name, '') else '' end as buyer
    from head_count_entry x
    left join clutch c on c.workspace_id = x.workspace_id and c.id = x.clutch_id
    left join individual i on i.workspace_id = x.workspace_id and i.id = x.individual_id
    join species p on p.workspace_id = x.workspace_id and p.id = coalesce(c.species_id, i.species_id)
    left join sale_line l on l.workspace_id = x.workspace_id and l.entry_id = x.id
    left join sale s on s.workspace_id = l.workspace_id and s.id = l.sale_id
    left join buyer_person n on n.workspace_id = s.workspace_id and n.buyer_id = s.buyer_id
    where x.workspace_id = ${workspaceId}::uuid and x."on" between ${from}::date and ${until}::date
      and x.reverses is null
      and not exists (select from head_count_entry r where r.workspace_id = x.workspace_id and r.reverses = x.id)
      and (x."from" = 'uncounted' or x."to" in ('sold', 'given_away', 'dead', 'escaped'))
    order by x."on", x.id limit ${limit}`
}
