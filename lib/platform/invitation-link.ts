import { createHmac } from 'node:crypto'
import type { Role } from '@/lib/domain/role/permissions'
import { authPool } from '@/lib/platform/auth-database'
import { env } from '@/lib/platform/env'
import { hashSecret } from '@/lib/platform/secret'

/**
 * The secret of an invitation: 256 bits that follow from the link key and the invitation's id. So the database holds
 * its hash alone, and the inviter can still be shown the link again while it is open.
 */
export function invitationToken(invitationId: string): string {
  return createHmac('sha256', env().LINK_KEY).update(`invitation:${invitationId}`).digest('base64url')
}

/** The address comes from the settings, never from a request, which anyone may address to another host. */
export function invitationAddress(invitationId: string): string {
  return new URL(`/invitation/${invitationToken(invitationId)}`, env().PUBLIC_ADDRESS).href
}

/** What a mail says when it is sent or shown. */
export function writeMailText(mail: { body: string; invitationId: string | null }): string {
  return mail.invitationId ? `${mail.body}\n\n${invitationAddress(mail.invitationId)}\n` : mail.body
}

export type WaitingInvitation = {
  workspaceId: string
  id: string
  role: Role
  slug: string
  workspaceName: string
  inviter: string
}

/** What an invitation's link leads to, read before anyone belongs there. Reading it changes nothing. */
export async function lookUpInvitation(token: string): Promise<WaitingInvitation | undefined> {
  const found = await authPool().query<WaitingInvitation>(
    `select i.workspace_id as "workspaceId", i.id, i.role, w.slug, w.name as "workspaceName",
            m.display_name as inviter
     from invitation i
     join workspace w on w.workspace_id = i.workspace_id and w.archived_at is null
     join membership m on m.workspace_id = i.workspace_id and m.person_id = i.invited_by
     where i.token_hash = $1 and i.accepted_at is null and i.revoked_at is null and i.expires_at > now()
       and m.ended_at is null`,
    [Buffer.from(hashSecret(token))],
  )
  return found.rows[0]
}
