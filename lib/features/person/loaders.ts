import { redirect } from 'next/navigation'
import { writeElapsed } from '@/lib/domain/calendar/elapsed'
import { describeDevice } from '@/lib/domain/person/device'
import { readSignedIn } from '@/lib/platform/current-session'
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

/** Who is signed in, if anyone, and where they work. */
export async function loadFrontPage(): Promise<{ person: SignedIn; workspaces: OwnWorkspace[] } | undefined> {
  const person = await readSignedIn()
  return person && { person, workspaces: await listOwnWorkspaces(person.personId) }
}
