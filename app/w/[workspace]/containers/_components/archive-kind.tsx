'use client'

import { ConfirmButton } from '@/components/ui/form/confirm-button'
import { archiveContainerKindAction } from '@/lib/features/container/actions'

type Props = { workspace: string; kind: { id: string; version: number }; name: string }

export function ArchiveKind({ workspace, kind, name }: Props) {
  return (
    <ConfirmButton
      label="Out of use"
      title={`Put ${name} out of use?`}
      action={archiveContainerKindAction}
      workspace={workspace}
      input={kind}
      confirm="Put it out of use"
      said={`${name}: out of use.`}
    >
      It is no longer offered and no longer counted. What stood in such containers keeps its record.
    </ConfirmButton>
  )
}
