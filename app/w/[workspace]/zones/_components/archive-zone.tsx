'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { archiveZoneAction } from '@/lib/features/zone/actions'

type Props = { workspace: string; zone: { id: string; version: number }; name: string }

export function ArchiveZone({ workspace, zone, name }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Out of use" kind="quiet" title={`Put ${name} out of use?`}>
      {({ close }) => (
        <div className="space-y-4">
          <p>It is no longer offered. What stood in it keeps the temperatures it had there.</p>
          <ActionButton
            action={archiveZoneAction}
            workspace={workspace}
            input={zone}
            kind="filled"
            onDone={() => {
              close()
              done(`${name} is out of use.`)
            }}
          >
            Put it out of use
          </ActionButton>
        </div>
      )}
    </DialogButton>
  )
}
