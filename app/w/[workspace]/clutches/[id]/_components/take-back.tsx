'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { reverseEntryAction } from '@/lib/features/clutch/actions'

export function TakeBack({
  workspace,
  clutchId,
  entryId,
}: {
  workspace: string
  clutchId: string
  entryId: string
}) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={reverseEntryAction}
      workspace={workspace}
      input={{ clutch: clutchId, entry: entryId }}
      onDone={() => done('The entry is taken back.')}
    >
      Take back
    </ActionButton>
  )
}
