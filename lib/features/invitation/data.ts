import type { Role } from '@/lib/domain/role/permissions'
import type { Tx } from '@/lib/platform/db'
import { invitationAddress } from '@/lib/platform/invitation-link'
import type { WorkspaceId } from '@/lib/platform/workspace'

export type OpenInvitation = { id: string; email: string; role: Role; expiresAt: string; address: string }

/** Invitations that can still be accepted, each with the link to hand over. */
export async function listOpenInvitations(tx: Tx, workspaceId: WorkspaceId): Promise<OpenInvitation[]> {
  const rows = await tx.invitation.findMany({
    where: { workspaceId, acceptedAt: null, revokedAt: null, expiresAt: { gt: new Date() } },
    select: { id: true, email: true, role: true, expiresAt: true },
    orderBy: { createdAt: 'desc' },
  })
  return rows.map((row) => ({
    ...row,
    expiresAt: row.expiresAt.toISOString(),
    address: invitationAddress(row.id),
  }))
}
