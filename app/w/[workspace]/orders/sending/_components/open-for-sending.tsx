'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { recordClosedForSendingAction } from '@/lib/features/dispatch/actions'

type Props = { workspace: string; country: string; on: string }

export function OpenForSending({ workspace, country, on }: Props) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={recordClosedForSendingAction}
      workspace={workspace}
      input={{ country, on, isClosed: false }}
      onDone={() => done('Open after all.')}
    >
      Open after all<span className="sr-only"> on {on}</span>
    </ActionButton>
  )
}
