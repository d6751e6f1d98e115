'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { recordOrderPaidAction } from '@/lib/features/order/actions'
import type { OrderPage } from '@/lib/features/order/loaders'

type Props = { workspace: string; page: Pick<OrderPage, 'order' | 'today'> }

export function MarkPaid({ workspace, page: { order, today } }: Props) {
  const done = useDone()
  return (
    <ActionButton
      action={recordOrderPaidAction}
      workspace={workspace}
      input={{ order: order.id, version: order.version, on: today }}
      onDone={() => done('Paid today.')}
    >
      Paid today
    </ActionButton>
  )
}
