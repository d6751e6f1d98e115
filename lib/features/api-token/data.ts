import type { Role } from '@/lib/domain/role/permissions'
import type { Tx } from '@/lib/platform/db'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type ApiTokenRow = {
  id: string
  name: string
  role: Role
  madeBy: string
  createdAt: string
  expiresAt: string
  state: 'works' | 'revoked' | 'expired'
}

/** Tokens of the workspace, the newest first. What a token says cannot be read again. */
export async function listApiTokens(tx: Tx, workspaceId: WorkspaceId): Promise<ApiTokenRow[]> {
  const rows = await tx.apiToken.findMany({
    where: { workspaceId },
    select: {
      id: true,
      name: true,
      role: true,
      createdAt: true,
      expiresAt: true,
      revokedAt: true,
      person: { select: { displayName: true } },
    },
    orderBy: { createdAt: 'desc' },
    take: 200,
  })
  return rows.map(({ person, revokedAt, createdAt, expiresAt, ...row }) => ({
    ...row,
    madeBy: person.displayName,
    createdAt: createdAt.toISOString(),
    expiresAt: expiresAt.toISOString(),
    state: revokedAt ? 'revoked' : expiresAt.getTime() <= Date.now() ? 'expired' : 'works',
  }))
}
