import type { CohortLife } from '@/lib/domain/cohort/course'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** The growth of one animal, and the tray it stands on. */
export type CohortRow = CohortLife & { tray: { id: string; label: string } | null }

/** The growth of every animal of a clutch that was ever parted, without what a list of animals shows besides. */
export async function listCohortLives(
  tx: Tx,
  workspaceId: WorkspaceId,
  clutchId: string,
): Promise<CohortRow[]> {
  return tx.$queryRaw<CohortRow[]>`
    select i.baseline_on::text as "fromOn", i.baseline_moults as "fromMoults",
      (select coalesce(json_agg(json_build_object('on', m."on", 'number', m.number) order by m.number), '[]')
        from moult m
        where m.workspace_id = i.workspace_id and m.individual_id = i.id and m.archived_at is null) as moults,
      case when i.whereabouts <> 'single' then
        (select max(e."on")::text from head_count_entry e
          where e.workspace_id = i.workspace_id and e.individual_id = i.id) end as "untilOn",
      case when t.id is not null then json_build_object('id', t.id, 'label', t.label) end as tray
    from individual i
    left join tray t on t.workspace_id = i.workspace_id and t.id = i.tray_id
    where i.workspace_id = ${workspaceId}::uuid and i.clutch_id = ${clutchId}::uuid
      and i.whereabouts <> 'together'
    order by i.id`
}

/** The trays on which some of them still stand, newest first, with how many do. */
export function traysOf(lives: readonly CohortRow[]): { id: string; label: string; count: number }[] {
  const here = lives.flatMap(({ tray, untilOn }) => (tray && untilOn === null ? [tray] : []))
  const trays = new Map(here.map((tray) => [tray.id, tray]))
  return [...trays.values()]
    .map((tray) => ({ ...tray, count: here.filter(({ id }) => id === tray.id).length }))
    .sort((one, other) => (one.id > other.id ? -1 : 1))
}
