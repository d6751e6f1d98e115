'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { createBoxPartAction } from '@/lib/features/show-box/actions'

type Props = { workspace: string; input: { box: string; version: number; from: number } }

/** For a device that is lost or broken. */
export function MoveToNewPart({ workspace, input }: Props) {
  const done = useDone()
  return (
    <DialogButton label="This device is gone" kind="quiet" title="Move what is left into a new part">
      {({ close }) => (
        <div className="space-y-4">
          <p>
            Another device can then sell the animals that are not sold yet, with a series of its own. Should
            the lost one turn up, its receipts are taken all the same; whoever was sold twice is told.
          </p>
          <ActionButton
            action={createBoxPartAction}
            workspace={workspace}
            input={input}
            kind="filled"
            onDone={() => {
              close()
              done('There is a new part.')
            }}
          >
            Move them
          </ActionButton>
        </div>
      )}
    </DialogButton>
  )
}
