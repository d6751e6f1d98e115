import { authPool } from '@/lib/platform/auth-database'

export type DueLook = { workspaceId: string; zoneId: string }

/** Watched zones that are due, of all workspaces, the longest waiting first: asked before any workspace is known. */
export async function listDueLooks(limit: number): Promise<DueLook[]> {
  const { rows } = await authPool().query<DueLook>(
    `select workspace_id as "workspaceId", zone_id as "zoneId" from watch_look
     where due_at <= now() order by due_at limit $1`,
    [limit],
  )
  return rows
}
