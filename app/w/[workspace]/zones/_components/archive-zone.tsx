'use client'

import { ConfirmButton } from '@/components/ui/form/confirm-button'
import { archiveZoneAction } from '@/lib/features/zone/actions'

type Props = { workspace: string; zone: { id: string; version: number }; name: string }

export function ArchiveZone({ workspace, zone, name }: Props) {
  return (
    <ConfirmButton
      label="Out of use"
      title={`Put ${name} out of use?`}
      action={archiveZoneAction}
      workspace={workspace}
      input={zone}
      confirm="Put it out of use"
      said={`${name} is out of use.`}
    >
      It is no longer offered. What stood in it keeps the temperatures it had there.
    </ConfirmButton>
  )
}
