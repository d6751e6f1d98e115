import type { CohortLife } from '@/lib/domain/cohort/course'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

/** The growth of every animal of a clutch that was ever parted, without what a list of animals shows besides. */
export async function listCohortLives(
  tx: Tx,
  workspaceId: WorkspaceId,
  clutchId: string,
): Promise<CohortLife[]> {
  return tx.$queryRaw<CohortLife[]>`
    select i.baseline_on::text as "fromOn", i.baseline_moults as "fromMoults",
      (select coalesce(json_agg(json_build_object('on', m."on", 'number', m.number) order by m.number), '[]')
        from moult m
        where m.workspace_id = i.workspace_id and m.individual_id = i.id and m.archived_at is null) as moults,
      case when i.whereabouts <> 'single' then
        (select max(e."on")::text from head_count_entry e
          where e.workspace_id = i.workspace_id and e.individual_id = i.id) end as "untilOn"
    from individual i
    where i.workspace_id = ${workspaceId}::uuid and i.clutch_id = ${clutchId}::uuid
      and i.whereabouts <> 'together'
    order by i.id`
}
