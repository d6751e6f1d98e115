import type { PlainDate } from '@/lib/domain/calendar/date'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type MoultRoundRow = {
  id: string
  on: PlainDate
  walkedBy: string | null
  isFinished: boolean
  looks: number
  moults: number
}

/** The rounds of late, newest first, with what was seen on each; those taken back are left out. */
export async function listMoultRounds(
  tx: Tx,
  workspaceId: WorkspaceId,
  limit: number,
): Promise<MoultRoundRow[]> {
  return tx.$queryRaw<MoultRoundRow[]>`
    select r.id, r."on"::text as "on", m.display_name as "walkedBy", r.finished_at is not null as "isFinished",
      count(l.id)::int as looks, count(l.moult_id)::int as moults
    from moult_round r
    left join membership m on m.workspace_id = r.workspace_id and m.person_id = r.walked_by
    left join look l on l.workspace_id = r.workspace_id and l.moult_round_id = r.id and l.archived_at is null
    where r.workspace_id = ${workspaceId}::uuid and r.archived_at is null
    group by r.workspace_id, r.id, m.display_name
    order by r."on" desc, r.created_at desc limit ${limit}`
}
