'use client'

import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import type { OrderPage } from '@/lib/features/order/loaders'
import { removeOrderStockAction } from '@/lib/features/order-stock/actions'

type Props = { workspace: string; order: OrderPage['order']; line: OrderPage['order']['stock'][number] }

export function RemoveStock({ workspace, order, line }: Props) {
  const done = useDone()
  return (
    <ActionButton
      action={removeOrderStockAction}
      workspace={workspace}
      kind="quiet"
      input={{ order: order.id, version: order.version, number: line.number }}
      onDone={() => done('Taken off the order.')}
    >
      Take {line.description} off
    </ActionButton>
  )
}
