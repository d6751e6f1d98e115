'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { recordArrivalAction } from '@/lib/features/container/actions'

type Props = { workspace: string; orderId: string; count: number }

export function Arrived({ workspace, orderId, count }: Props) {
  const done = useDone()
  return (
    <ActionButton
      kind="quiet"
      action={recordArrivalAction}
      workspace={workspace}
      input={{ orderId }}
      onDone={() => done(`${count} more in stock.`)}
    >
      They have arrived
    </ActionButton>
  )
}
