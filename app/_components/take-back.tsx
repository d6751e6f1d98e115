'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { takeBackWorkspaceAction } from '@/lib/features/workspace-archive/actions'

export function TakeBack({ workspaceId }: { workspaceId: string }) {
  return (
    <ActionButton
      action={takeBackWorkspaceAction}
      workspace=""
      input={{ workspaceId }}
      onDone={({ slug }) => window.location.assign(`/w/${slug}`)}
    >
      Take it back
    </ActionButton>
  )
}
