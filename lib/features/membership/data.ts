import type { Role } from '@/lib/domain/role/permissions'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type Member = {
  personId: string
  name: string
  email: string
  role: Role
  version: number
  since: string
  endedAt: string | null
}

/** Everyone who works here or did, owners first, those who left last. */
export async function listMembers(tx: Tx, workspaceId: WorkspaceId): Promise<Member[]> {
  const rows = await tx.membership.findMany({
    where: { workspaceId },
    orderBy: [{ endedAt: { sort: 'asc', nulls: 'first' } }, { role: 'asc' }, { displayName: 'asc' }],
  })
  return rows.map(({ personId, displayName, email, role, version, createdAt, endedAt }) => ({
    personId,
    name: displayName,
    email,
    role,
    version,
    since: createdAt.toISOString(),
    endedAt: endedAt?.toISOString() ?? null,
  }))
}

/** The name each person goes by here, by person id, for naming who did something. */
export async function loadMemberNames(tx: Tx, workspaceId: WorkspaceId): Promise<Map<string, string>> {
  const rows = await tx.membership.findMany({
    where: { workspaceId },
    select: { personId: true, displayName: true },
  })
  return new Map(rows.map((row) => [row.personId, row.displayName]))
}
