import type { PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import type { GivenWindow } from '@/lib/domain/past-window/given'
import type { Outcome } from '@/lib/domain/past-window/judge'
import type { LateEntry } from '@/lib/domain/past-window/month'
import type { Tx } from '@/lib/platform/db'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** What each month of a species was worked out from, by its first day. */
export async function listMonthHashes(
  tx: Tx,
  workspaceId: WorkspaceId,
  speciesId: string,
): Promise<Map<PlainDate, string>> {
  const rows = await tx.$queryRaw<{ from: PlainDate; hash: string }[]>`
    select month_on::text as "from", evidence_hash as hash from past_window_month
    where workspace_id = ${workspaceId}::uuid and species_id = ${speciesId}::uuid`
  return new Map(rows.map(({ from, hash }) => [from, hash]))
}

/** The care profile that was in force at the end of each day; before there was one, the first. */
export async function listProfilesByDay(
  tx: Tx,
  workspaceId: WorkspaceId,
  { speciesId, days }: { speciesId: string; days: readonly PlainDate[] },
): Promise<CareProfile[]> {
  const rows = await tx.$queryRaw<{ content: CareProfile }[]>`
    select coalesce(newest.content, oldest.content) as content
    from unnest(${[...days]}::text[]) with ordinality as d(day, place)
    left join lateral (
      select p.content from care_profile p
      where p.workspace_id = ${workspaceId}::uuid and p.species_id = ${speciesId}::uuid
        and p.created_at < (d.day::date + 1)
      order by p.number desc limit 1) newest on true
    left join lateral (
      select p.content from care_profile p
      where p.workspace_id = ${workspaceId}::uuid and p.species_id = ${speciesId}::uuid
      order by p.number limit 1) oldest on true
    order by d.place`
  return rows.map(({ content }) => content)
}

/** The last day of each month on which each animal of a species was looked at or fed, ascending, by its id. */
export async function listSeenByMonth(
  tx: Tx,
  workspaceId: WorkspaceId,
  speciesId: string,
): Promise<Map<string, PlainDate[]>> {
  const rows = await tx.$queryRaw<{ id: string; days: PlainDate[] }[]>`
    select x.individual_id as id, json_agg(x."on"::text order by x."on") as days
    from (
      select s.individual_id, max(s."on") as "on"
      from (
        select l.individual_id, l."on" from look l
        where l.workspace_id = ${workspaceId}::uuid and l.archived_at is null
        union all
        select f.individual_id, f."on" from feeding f where f.workspace_id = ${workspaceId}::uuid
      ) s
      join individual i on i.workspace_id = ${workspaceId}::uuid and i.id = s.individual_id
        and i.species_id = ${speciesId}::uuid
      group by s.individual_id, date_trunc('month', s."on")
    ) x group by x.individual_id`
  return new Map(rows.map(({ id, days }) => [id, days]))
}

/**
 * What was entered later than its own day, by what it is about. Where the animal, clutch or egg case was entered later
 * still, its history came with it, and is left out.
 */
export function listLateEntries(
  tx: Tx,
  { workspaceId, timeZone }: Pick<Workspace, 'workspaceId' | 'timeZone'>,
  speciesId: string,
): Promise<LateEntry[]> {
  return tx.$queryRaw<LateEntry[]>`
    select x.kind, x.id as "subjectId", x."on"::text as "on", max(x.known_on)::text as "knownOn"
    from (
      select 'moult' as kind, i.id, m."on", (m.created_at at time zone ${timeZone})::date as known_on,
        i.created_at as here_at
      from moult m join individual i on i.workspace_id = m.workspace_id and i.id = m.individual_id
      where m.workspace_id = ${workspaceId}::uuid and m.archived_at is null and i.species_id = ${speciesId}::uuid
      union all
      select 'left', i.id, e."on", (e.recorded_at at time zone ${timeZone})::date, i.created_at
      from head_count_entry e join individual i on i.workspace_id = e.workspace_id and i.id = e.individual_id
      where e.workspace_id = ${workspaceId}::uuid and e."to" not in ('together', 'single')
        and i.species_id = ${speciesId}::uuid
      union all
      select 'sighting', c.id, o."on", (o.created_at at time zone ${timeZone})::date, c.created_at
      from clutch_observation o join clutch c on c.workspace_id = o.workspace_id and c.id = o.clutch_id
      where o.workspace_id = ${workspaceId}::uuid and o.archived_at is null and c.species_id = ${speciesId}::uuid
      union all
      select 'hatch', c.id, h."on", (h.created_at at time zone ${timeZone})::date, c.created_at
      from hatch h join egg_case c on c.workspace_id = h.workspace_id and c.id = h.egg_case_id
      where h.workspace_id = ${workspaceId}::uuid and c.species_id = ${speciesId}::uuid
    ) x
    where x.known_on > x."on" and (x.here_at at time zone ${timeZone})::date <= x."on"
    group by x.kind, x.id, x."on"`
}

export type PastWindowQuestion = {
  speciesId?: string
  /** Of one animal, of the animals of one clutch with the egg case they are from, or of one egg case. */
  individualId?: string
  clutchId?: string
  eggCaseId?: string
  /** What was given, and what came, by the end of that day. */
  asOf: PlainDate
}

/** A window that was given, with what is on record of what came. */
export type PastWindowRow = GivenWindow &
  Outcome & { label: string; familyId: string; scientificName: string; instarsSeen: number }

/** The newest say most about how it is now, and more would make a page long. */
const MOST_ROWS = 5000

/** Windows with what came of them, newest first, in one statement. */
export function listPastWindows(
  tx: Tx,
  workspaceId: WorkspaceId,
  { speciesId, individualId, clutchId, eggCaseId, asOf }: PastWindowQuestion,
): Promise<PastWindowRow[]> {
  const of = {
    species: speciesId ?? null,
    animal: individualId ?? null,
    clutch: clutchId ?? null,
    eggCase: eggCaseId ?? null,
  }
  return tx.$queryRaw<PastWindowRow[]>`
    with given as (
      select w.*, g.instars_seen, g.species_id
      from past_window_month g
      cross join lateral jsonb_to_recordset(g.windows) as w(kind text, "subjectId" uuid, moults int, "givenOn" text,
        p10 text, p50 text, p90 text, "chanceInside" float8)
      where g.workspace_id = ${workspaceId}::uuid and g.month_on <= ${asOf}::date
        and (${of.species}::uuid is null or g.species_id = ${of.species}::uuid) and w."givenOn" <= ${asOf}::text
    ), animal as (
      select w.*, i.label, coalesce(i.clutch_id, i.id) as family, i.baseline_on,
        m."on" as came_on, m.seen_from, e."on" as left_on, e.moulting
      from given w
      join individual i on i.workspace_id = ${workspaceId}::uuid and i.id = w."subjectId"
      left join lateral (
        select m."on", m.seen_from from moult m
        where m.workspace_id = i.workspace_id and m.individual_id = i.id and m.archived_at is null
          and m."on" <= ${asOf}::date
          and case w.kind when 'final-moult' then m.final else m.number = w.moults + 1 end
        order by m.number limit 1) m on true
      left join lateral (
        select e."on", e."to" = 'dead' and e.cause = 'bad_moult' as moulting from head_count_entry e
        where e.workspace_id = i.workspace_id and e.individual_id = i.id and e."on" <= ${asOf}::date
          and e."to" not in ('together', 'single')
          and not exists (select from head_count_entry b where b.workspace_id = e.workspace_id
            and b.individual_id = e.individual_id and b.id > e.id and b."on" <= ${asOf}::date)
        order by e.id desc limit 1) e on true
      where w.kind <> 'hatch'
        and (${of.animal}::uuid is null or i.id = ${of.animal}::uuid)
        and (${of.clutch}::uuid is null or i.clutch_id = ${of.clutch}::uuid)
        and ${of.eggCase}::uuid is null
    ), egg as (
      select w.*, c.label, h.on as came_on, c.ended_on
      from given w
      join egg_case c on c.workspace_id = ${workspaceId}::uuid and c.id = w."subjectId"
      left join lateral (
        select min(h."on") as on from hatch h
        where h.workspace_id = c.workspace_id and h.egg_case_id = c.id and h."on" <= ${asOf}::date) h on true
      where w.kind = 'hatch' and ${of.animal}::uuid is null
        and (${of.eggCase}::uuid is null or c.id = ${of.eggCase}::uuid)
        and (${of.clutch}::uuid is null or exists (select from hatch x
          where x.workspace_id = c.workspace_id and x.egg_case_id = c.id and x.clutch_id = ${of.clutch}::uuid))
    ), judged as (
      select a.kind, a."subjectId", a.moults, a."givenOn", a.p10, a.p50, a.p90, a."chanceInside", a.instars_seen,
        a.species_id, a.label, a.family,
        case
          when a.came_on is not null then json_build_object('earliestOn', coalesce(a.seen_from, a.came_on),
            'latestOn', a.came_on)
          when a.moulting and a.kind = 'next-moult'
            then json_build_object('earliestOn', a.left_on, 'latestOn', a.left_on)
        end as came,
        greatest(a.baseline_on, case when a.left_on is not null and not a.moulting then a.left_on end,
          (select max(l."on") from look l where l.workspace_id = ${workspaceId}::uuid
            and l.individual_id = a."subjectId" and l.archived_at is null and l."on" <= ${asOf}::date),
          (select max(f."on") from feeding f where f.workspace_id = ${workspaceId}::uuid
            and f.individual_id = a."subjectId" and f."on" <= ${asOf}::date))::text as "seenWithoutOn",
        a.left_on::text as "leftOn"
      from animal a
      union all
      select g.kind, g."subjectId", g.moults, g."givenOn", g.p10, g.p50, g.p90, g."chanceInside", g.instars_seen,
        g.species_id, g.label, g."subjectId",
        case when g.came_on is not null
          then json_build_object('earliestOn', g.came_on, 'latestOn', g.came_on) end,
        coalesce(least(g.ended_on, ${asOf}::date), ${asOf}::date)::text,
        case when g.ended_on <= ${asOf}::date then g.ended_on::text end
      from egg g
    )
    select j.kind, j."subjectId", j.moults, j."givenOn", j.p10, j.p50, j.p90, j."chanceInside",
      j.instars_seen as "instarsSeen", j.label, j.family as "familyId", j.came, j."seenWithoutOn", j."leftOn",
      s.scientific_name as "scientificName"
    from judged j join species s on s.workspace_id = ${workspaceId}::uuid and s.id = j.species_id
    order by j."givenOn" desc, j."subjectId", j.kind limit ${MOST_ROWS}`
}
