import { readSignedIn } from '@/lib/platform/current-session'
import { lookUpInvitation, type WaitingInvitation } from '@/lib/platform/invitation-link'
import type { SignedIn } from '@/lib/platform/session'

export type InvitationPage = { invitation: WaitingInvitation | undefined; person: SignedIn | undefined }

/** What the link leads to and who opened it. Opening it uses nothing up: mail programs open links too. */
export async function loadInvitationPage(token: string): Promise<InvitationPage> {
  return { invitation: await lookUpInvitation(token), person: await readSignedIn() }
}
