'use client'

import { useSyncExternalStore } from 'react'
import { usePageCopy } from '@/components/offline/use-page-copy'
import { SignInAgain } from '@/components/session/sign-in-again'
import type { PartWanted } from '@/components/stall/stall-device'
import { useStallDevice } from '@/components/stall/use-stall-device'
import { KeptParts } from './kept-parts'
import { OpenPart } from './open-part'

const UUID = '[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}'
const NAMED = new RegExp(`^#(${UUID})/(${UUID})/([1-9])$`)

/** The part that the address names, behind the # so that it is never sent: null where it names none. */
export function readStallAddress(hash: string): PartWanted | null {
  const [, workspaceId, box, part] = NAMED.exec(hash) ?? []
  return workspaceId && box ? { workspaceId, box, part: Number(part) } : null
}

function subscribe(listener: () => void): () => void {
  window.addEventListener('hashchange', listener)
  return () => window.removeEventListener('hashchange', listener)
}

/** The counter of this device at a show: the part that its address names, or what is kept here. */
export function StallScreen({ isBuilt }: { isBuilt: boolean }) {
  const { device, state } = useStallDevice()
  const copy = usePageCopy('/stall', isBuilt)
  const hash = useSyncExternalStore<string | undefined>(
    subscribe,
    () => window.location.hash,
    () => undefined,
  )
  if (!state.isRead || hash === undefined)
    return (
      <p role="status" className="px-4 py-10 text-soft">
        Reading what this device has kept …
      </p>
    )
  const wanted = readStallAddress(hash)
  return (
    <>
      {wanted ? (
        <OpenPart key={hash} {...{ wanted, device, state, copy }} />
      ) : (
        <KeptParts state={state} copy={copy} onSignIn={() => device.setSigningIn(true)} />
      )}
      <SignInAgain
        isOpen={state.isSigningIn}
        email={state.who?.person.email}
        onSignedIn={() => void device.signedIn()}
        onGiveUp={() => device.setSigningIn(false)}
      />
    </>
  )
}
