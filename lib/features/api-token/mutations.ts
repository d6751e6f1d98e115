import type { CreateApiToken } from '@/lib/features/api-token/schema'
import type { Tx } from '@/lib/platform/db'
import { invariant, refuseUnknown } from '@/lib/platform/errors'
import { createSecret, hashSecret } from '@/lib/platform/secret'
import type { Scope, WorkspaceId } from '@/lib/platform/workspace'

const DAY_MS = 86_400_000

/** Makes a token and says it this once; only its hash is kept. */
export async function createApiToken(
  tx: Tx,
  scope: Scope,
  { name, role, days }: CreateApiToken,
): Promise<{ id: string; token: string }> {
  invariant(scope.personId, 'a token is made by a person')
  const token = createSecret()
  const made = await tx.apiToken.create({
    data: {
      workspaceId: scope.workspaceId,
      name,
      role,
      tokenHash: hashSecret(token),
      personId: scope.personId,
      expiresAt: new Date(Date.now() + days * DAY_MS),
    },
    select: { id: true },
  })
  return { id: made.id, token }
}

/** @throws AppError not-found when it did not work any more */
export async function revokeApiToken(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<void> {
  const revoked = await tx.apiToken.updateMany({
    where: { workspaceId, id, revokedAt: null },
    data: { revokedAt: new Date() },
  })
  if (revoked.count === 0) throw refuseUnknown('working token')
}
