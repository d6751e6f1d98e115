'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { acceptInvitationAction } from '@/lib/features/invitation/actions'

type Props = { token: string; name: string; email: string }

export function AcceptInvitation({ token, name, email }: Props) {
  return (
    <div className="space-y-4">
      <p className="text-small">
        You are signed in as {name} ({email}). If that is somebody else, sign out first.
      </p>
      <ActionButton
        kind="filled"
        action={acceptInvitationAction}
        workspace=""
        input={{ token }}
        onDone={({ slug }) => window.location.assign(`/w/${slug}`)}
      >
        Accept
      </ActionButton>
    </div>
  )
}
