'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { revokeInvitationAction } from '@/lib/features/invitation/actions'

export function RevokeInvitation({ workspace, id }: { workspace: string; id: string }) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={revokeInvitationAction}
      workspace={workspace}
      input={{ id }}
      onDone={() => done('The link works no more.')}
    >
      Take back
    </ActionButton>
  )
}
