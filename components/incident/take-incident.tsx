'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { takeIncidentAction } from '@/lib/features/incident/actions'

type Props = { workspace: string; id: string; onDone?: () => void }

/** One touch says to everybody else that somebody looks after it. */
export function TakeIncident({ workspace, id, onDone }: Props) {
  const done = useDone()
  return (
    <ActionButton
      kind="hand"
      action={takeIncidentAction}
      workspace={workspace}
      input={{ id }}
      onDone={() => {
        onDone?.()
        done('You look after it. Nobody else is called.')
      }}
    >
      I look after it
    </ActionButton>
  )
}
