'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { endHandOverAction } from '@/lib/features/hand-over/actions'

export function WithdrawOffer({ workspace, input }: { workspace: string; input: object }) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={endHandOverAction}
      workspace={workspace}
      input={input}
      onDone={() => done('The code leads nowhere any more.')}
    >
      Withdraw it
    </ActionButton>
  )
}
