import { randomUUID } from 'node:crypto'
import { type CreateInvitation, INVITATION_DAYS } from '@/lib/features/invitation/schema'
import { getUnconfirmedAddress } from '@/lib/platform/confirmation'
import { inTransaction, type Tx } from '@/lib/platform/db'
import { AppError, invariant, refuseUnknown } from '@/lib/platform/errors'
import { invitationToken, lookUpInvitation, type WaitingInvitation } from '@/lib/platform/invitation-link'
import { enqueueMail } from '@/lib/platform/jobs'
import { hashSecret } from '@/lib/platform/secret'
import type { Scope, Workspace, WorkspaceId } from '@/lib/platform/workspace'

const DAY_MS = 86_400_000

/** Invites an address to work here as something, and writes the mail that carries the link. */
export async function createInvitation(
  tx: Tx,
  { scope, workspace }: { scope: Scope; workspace: Workspace },
  invitation: CreateInvitation,
): Promise<{ id: string }> {
  const { workspaceId } = workspace
  const { email, role } = invitation
  invariant(scope.personId, 'a person invites, not a token')
  // Mails to others go out in the name of an address that is known to be its owner's.
  if (await getUnconfirmedAddress(scope.personId))
    throw new AppError('forbidden', 'Confirm your mail address first, under “Your account”.')
  const member = await tx.membership.count({ where: { workspaceId, email, endedAt: null } })
  if (member > 0)
    throw new AppError('already-recorded', 'This person already works here.', {
      fields: [{ path: 'email', message: 'Someone with this address already works here.' }],
    })
  const id = randomUUID()
  await tx.invitation.create({
    data: {
      workspaceId,
      id,
      email,
      role,
      tokenHash: hashSecret(invitationToken(id)),
      invitedBy: scope.personId,
      expiresAt: new Date(Date.now() + INVITATION_DAYS * DAY_MS),
    },
  })
  await writeMail(tx, workspace, { id, email, role })
  return { id }
}

async function writeMail(
  tx: Tx,
  { workspaceId, name }: Workspace,
  { id, email, role }: { id: string; email: string; role: string },
): Promise<void> {
  const mail = await tx.mailMessage.create({
    data: {
      workspaceId,
      toAddress: email,
      subject: `${name}: your invitation`,
      body: `${name} invites you to work with them in Oothecary as ${role}.\n\nOpen this link within ${INVITATION_DAYS} days and accept. It works once. If you did not expect it, do nothing.`,
      invitationId: id,
    },
    select: { id: true },
  })
  await enqueueMail(tx, workspaceId, mail.id)
}

/** @throws AppError not-found when it is not open any more */
export async function revokeInvitation(tx: Tx, workspaceId: WorkspaceId, id: string): Promise<void> {
  const revoked = await tx.invitation.updateMany({
    where: { workspaceId, id, acceptedAt: null, revokedAt: null },
    data: { revokedAt: new Date() },
  })
  if (revoked.count === 0) throw refuseUnknown('open invitation')
}

/**
 * Takes an invitation, once: whoever comes second, or too late, is told so and nothing is changed.
 * @throws AppError expired for one that is used, revoked, too old or unknown, all with the same words
 */
export async function acceptInvitation(
  token: string,
  person: { personId: string; name: string; email: string },
): Promise<{ slug: string }> {
  const invitation = await lookUpInvitation(token)
  if (!invitation) throw refuseSpent()
  const settings = { workspaceId: invitation.workspaceId, personId: null, apiTokenId: null }
  await inTransaction(settings, async (tx) => {
    await join(tx, invitation, person)
    // The record of who took it needs the membership, so the invitation is spent second; a failure undoes both.
    const taken = await tx.invitation.updateMany({
      where: {
        workspaceId: invitation.workspaceId,
        id: invitation.id,
        acceptedAt: null,
        revokedAt: null,
        expiresAt: { gt: new Date() },
      },
      data: { acceptedAt: new Date() },
    })
    if (taken.count === 0) throw refuseSpent()
  })
  return { slug: invitation.slug }
}

async function join(
  tx: Tx,
  { workspaceId, role }: WaitingInvitation,
  person: { personId: string; name: string; email: string },
): Promise<void> {
  const { personId, name, email } = person
  const made = await tx.membership.createMany({
    data: [{ workspaceId, personId, role, displayName: name, email }],
    skipDuplicates: true,
  })
  if (made.count === 1) return
  const returned = await tx.membership.updateMany({
    where: { workspaceId, personId, endedAt: { not: null } },
    data: { endedAt: null, role, displayName: name, email, version: { increment: 1 } },
  })
  if (returned.count === 0)
    throw new AppError(
      'already-recorded',
      'You already work here. The invitation is still open for someone else.',
    )
}

function refuseSpent(): AppError {
  return new AppError('expired', 'This invitation cannot be used any more. Ask for a new one.')
}
