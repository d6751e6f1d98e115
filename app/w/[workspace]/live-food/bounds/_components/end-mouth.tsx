'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { archiveMouthAction } from '@/lib/features/food-room/actions'

type Props = { workspace: string; mouth: { id: string; version: number; name: string } }

export function EndMouth({ workspace, mouth }: Props) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={archiveMouthAction}
      workspace={workspace}
      input={{ mouth: mouth.id, version: mouth.version }}
      onDone={() => done(`${mouth.name}: no longer counted.`)}
    >
      No longer<span className="sr-only"> count {mouth.name}</span>
    </ActionButton>
  )
}
