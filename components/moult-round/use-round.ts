'use client'

import { unstable_isUnrecognizedActionError } from 'next/navigation'
import { useEffect, useState, useSyncExternalStore } from 'react'
import { recordClutchObservationAction } from '@/lib/features/clutch-observation/actions'
import { recordRoundShelfAction } from '@/lib/features/moult/actions'
import type { ActionResult } from '@/lib/platform/action-result'
import type { Sending } from './device-round'
import { type Kept, NOTHING_KEPT, ROUND_KEY, RoundKeeper, type RoundStore } from './round-keeper'

type Whose = { workspace: string; workspaceId: string; personId: string }

/** The round of this device for the person who is signed in: another person's is not seen. */
export function useRound(whose: Whose): { keeper: RoundKeeper; kept: Kept } {
  const [keeper] = useState(
    () => new RoundKeeper(storeOf(whose), (sending) => sendTo(whose.workspace, sending)),
  )
  const kept = useSyncExternalStore(keeper.subscribe, keeper.getKept, () => NOTHING_KEPT)
  useEffect(() => keeper.start(), [keeper])
  return { keeper, kept }
}

function storeOf({ workspaceId, personId }: Whose): RoundStore {
  const key = `${ROUND_KEY}${workspaceId} ${personId}`
  const keep = (under: string, text: string | null) =>
    text === null ? localStorage.removeItem(under) : localStorage.setItem(under, text)
  return {
    read: () => localStorage.getItem(key),
    write: (text) => keep(key, text),
    readAside: () => localStorage.getItem(`${key} damaged`),
    writeAside: (text) => keep(`${key} damaged`, text),
  }
}

async function sendTo(workspace: string, { id, kind, input }: Sending): Promise<ActionResult<unknown>> {
  const call = { workspace, operationId: id, input }
  try {
    return await (kind === 'shelf' ? recordRoundShelfAction(call) : recordClutchObservationAction(call))
  } catch (thrown) {
    // Named here, so that the keeper itself knows nothing of the framework.
    if (unstable_isUnrecognizedActionError(thrown))
      throw Object.assign(new Error('older build'), { name: 'UnrecognizedActionError' })
    throw thrown
  }
}
