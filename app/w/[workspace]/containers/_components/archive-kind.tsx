'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { archiveContainerKindAction } from '@/lib/features/container/actions'

type Props = { workspace: string; kind: { id: string; version: number }; name: string }

export function ArchiveKind({ workspace, kind, name }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Out of use" kind="quiet" title={`Put ${name} out of use?`}>
      {({ close }) => (
        <div className="space-y-4">
          <p>
            It is no longer offered and no longer counted. What stood in such containers keeps its record.
          </p>
          <ActionButton
            action={archiveContainerKindAction}
            workspace={workspace}
            input={kind}
            kind="filled"
            onDone={() => {
              close()
              done(`${name}: out of use.`)
            }}
          >
            Put it out of use
          </ActionButton>
        </div>
      )}
    </DialogButton>
  )
}
