import { redirect } from 'next/navigation'
import { readSignedIn } from '@/lib/platform/current-session'
import { listDevices, listOwnWorkspaces, type OwnWorkspace, type SignedIn } from '@/lib/platform/session'

/** The gate of pages outside any workspace; sends a stranger to sign in and back. */
export async function requireSignedIn(address: string): Promise<SignedIn> {
  return (await readSignedIn()) ?? redirect(`/sign-in?next=${encodeURIComponent(address)}`)
}

export type OwnDevice = { id: string; device: string; since: string; lastSeen: string; isThis: boolean }

export async function loadDevicesPage(): Promise<{ person: SignedIn; devices: OwnDevice[] }> {
  const person = await requireSignedIn('/devices')
  const devices = await listDevices(person.personId)
  return {
    person,
    devices: devices.map(({ id, device, createdAt, lastSeenAt }) => ({
      id,
      device,
      since: createdAt.toISOString(),
      lastSeen: lastSeenAt.toISOString(),
      isThis: id === person.sessionId,
    })),
  }
}

/** Who is signed in, if anyone, and where they work. */
export async function loadFrontPage(): Promise<{ person: SignedIn; workspaces: OwnWorkspace[] } | undefined> {
  const person = await readSignedIn()
  return person && { person, workspaces: await listOwnWorkspaces(person.personId) }
}
