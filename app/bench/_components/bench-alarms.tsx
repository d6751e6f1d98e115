'use client'

import type { DeviceState } from '@/components/bench/queue/bench-device'
import { IncidentBar } from '@/components/incident/incident-bar'

type Props = {
  state: DeviceState /** Of the run that is open; of everywhere one may count where left out. */
  workspaceId?: string
}

/** Zones that want somebody, asked for by the page as on any other: its HTML stays the same for everybody. */
export function BenchAlarms({ state: { who, isSignedOut }, workspaceId }: Props) {
  if (who === null || isSignedOut) return null
  return who.workspaces
    .filter(({ id, mayCount }) => mayCount && (workspaceId === undefined || id === workspaceId))
    .map(({ id, slug }) => <IncidentBar key={id} workspace={slug} mayTake />)
}
