import type { Role } from '@/lib/domain/role/permissions'
import { authPool } from '@/lib/platform/auth-database'
import { mintScope, type Scope } from '@/lib/platform/workspace'

/**
 * What a person may do in each workspace they belong to now, by its id: for entries that a device has kept, whatever
 * the workspace is called today.
 */
export async function listOwnScopes(personId: string): Promise<Scope[]> {
  const found = await authPool().query<{ workspaceId: string; role: Role }>(
    `select workspace_id as "workspaceId", role from membership where person_id = $1 and ended_at is null`,
    [personId],
  )
  return found.rows.map((row) => mintScope({ ...row, personId }))
}
