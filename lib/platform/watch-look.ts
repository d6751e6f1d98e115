import { authPool } from '@/lib/platform/auth-database'

export type DueLook = { workspaceId: string; zoneId: string }

/** Watched zones that are due, of all workspaces, the longest waiting first: asked before any workspace is known. */
export async function listDueLooks(limit: number): Promise<DueLook[]> {
  const { rows } = await authPool().query<DueLook>(
    `select l.workspace_id as "workspaceId", l.zone_id as "zoneId" from watch_look l
     join workspace w on w.workspace_id = l.workspace_id and w.archived_at is null
     where l.due_at <= now() order by l.due_at limit $1`,
    [limit],
  )
  return rows
}
