import type { Role } from '@/lib/domain/role/permissions'
import { authPool } from '@/lib/platform/auth-database'
import { mintScope, type Scope } from '@/lib/platform/workspace'

/**
 * What a person may do in each workspace they belong to now, by its id: for entries that a device has kept, whatever
 * the workspace is called today.
 */
export async function listOwnScopes(personId: string): Promise<Scope[]> {
  const found = await authPool().query<{ workspaceId: string; role: Role }>(
    `select m.workspace_id as "workspaceId", m.role
     from membership m
     join workspace w on w.workspace_id = m.workspace_id and w.archived_at is null
     join person p on p.id = m.person_id
     where m.person_id = $1 and m.ended_at is null and not (w.requires_second_factor and p.totp_since is null)`,
    [personId],
  )
  return found.rows.map((row) => mintScope({ ...row, personId }))
}
