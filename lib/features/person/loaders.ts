import { redirect } from 'next/navigation'
import { writeElapsed } from '@/lib/domain/calendar/elapsed'
import { describeDevice } from '@/lib/domain/person/device'
import { type ArchivedWorkspace, listArchivedWorkspaces } from '@/lib/platform/archived-workspace'
import { getUnconfirmedAddress, lookUpConfirmation, writeConfirmation } from '@/lib/platform/confirmation'
import { readSignedIn } from '@/lib/platform/current-session'
import { hasMailServer } from '@/lib/platform/mail'
import { lookUpPasswordReset } from '@/lib/platform/password-reset'
import { getSecondFactor, type SecondFactor } from '@/lib/platform/second-factor'
import { listDevices, listOwnWorkspaces, type OwnWorkspace, type SignedIn } from '@/lib/platform/session'

/** The gate of pages outside any workspace; sends a stranger to sign in and back. */
export async function requireSignedIn(address: string): Promise<SignedIn> {
  return (await readSignedIn()) ?? redirect(`/sign-in?next=${encodeURIComponent(address)}`)
}

export type OwnDevice = { id: string; device: string; signedIn: string; lastSeen: string; isThis: boolean }

export async function loadDevicesPage(): Promise<{ person: SignedIn; devices: OwnDevice[] }> {
  const person = await requireSignedIn('/devices')
  const devices = await listDevices(person.personId)
  const now = Date.now()
  return {
    person,
    devices: devices.map(({ id, device, createdAt, lastSeenAt }) => ({
      id,
      device: describeDevice(device),
      signedIn: writeElapsed(now - createdAt.getTime()),
      lastSeen: writeElapsed(now - lastSeenAt.getTime()),
      isThis: id === person.sessionId,
    })),
  }
}

export type FrontPage = {
  person: SignedIn
  unconfirmed: string | null
  workspaces: OwnWorkspace[]
  deleted: ArchivedWorkspace[]
}

/** Who is signed in, if anyone, where they work, and what they can still take back. */
export async function loadFrontPage(): Promise<FrontPage | undefined> {
  const person = await readSignedIn()
  if (!person) return undefined
  const unconfirmed = (await getUnconfirmedAddress(person.personId)) ?? null
  const workspaces = await listOwnWorkspaces(person.personId)
  return { person, unconfirmed, workspaces, deleted: await listArchivedWorkspaces(person.personId) }
}

/** Whether a forgotten password can be helped by mail here, or only by whoever runs the service. */
export function loadForgottenPage(): { hasServer: boolean } {
  return { hasServer: hasMailServer() }
}

/** Whose password the link sets. Opening it uses nothing up: mail programs open links too. */
export async function loadResetPage(token: string): Promise<{ email: string } | undefined> {
  return lookUpPasswordReset(token)
}

/** Whose address the link confirms. Opening it uses nothing up. */
export async function loadConfirmationPage(token: string): Promise<{ email: string } | undefined> {
  return lookUpConfirmation(token)
}

export type AccountPage = {
  name: string
  email: string
  /** Null once the address is confirmed; `mail` is what would be sent, where nothing can send it. */
  confirmation: { mail: string | null } | null
  secondFactor: SecondFactor
}

export async function loadAccountPage(): Promise<AccountPage> {
  const { personId, name, email } = await requireSignedIn('/account')
  const isUnconfirmed = (await getUnconfirmedAddress(personId)) !== undefined
  const mail = hasMailServer() ? null : writeConfirmation({ personId, email })
  return {
    name,
    email,
    confirmation: isUnconfirmed ? { mail } : null,
    secondFactor: await getSecondFactor(personId),
  }
}
