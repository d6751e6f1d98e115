'use client'

import { ConfirmButton } from '@/components/ui/form/confirm-button'
import { createBoxPartAction } from '@/lib/features/show-box/actions'

type Props = { workspace: string; input: { box: string; version: number; from: number } }

/** For a device that is lost or broken. */
export function MoveToNewPart({ workspace, input }: Props) {
  return (
    <ConfirmButton
      label="This device is gone"
      title="Move what is left into a new part"
      action={createBoxPartAction}
      workspace={workspace}
      input={input}
      confirm="Move them"
      said="There is a new part."
    >
      Another device can then sell what is not sold yet, with a series of its own. Should the lost one turn
      up, its receipts are taken all the same; whoever was sold twice is told.
    </ConfirmButton>
  )
}
