'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { recordClosedDayAction } from '@/lib/features/food-room/actions'

type Props = { workspace: string; side: 'room' | 'supplier'; on: string }

export function OpenDay({ workspace, side, on }: Props) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={recordClosedDayAction}
      workspace={workspace}
      input={{ side, on, isClosed: false }}
      onDone={() => done('Open after all.')}
    >
      Open after all<span className="sr-only"> on {on}</span>
    </ActionButton>
  )
}
