'use client'

import { StockItemFields } from '@/components/stock/stock-item-fields'
import { DialogButton } from '@/components/ui/dialog'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import type { OrderPage } from '@/lib/features/order/loaders'
import { addOrderStockAction } from '@/lib/features/order-stock/actions'
import { addStockFormSchema } from '@/lib/features/order-stock/schema'

type Props = { workspace: string; page: Pick<OrderPage, 'order' | 'items' | 'currency'> }

/** Puts a jar, an egg case, cups, food or something in words on an open order. */
export function AddStock({ workspace, page: { order, items, currency } }: Props) {
  const done = useDone()
  return (
    <DialogButton
      label="Put something else on it"
      kind="plain"
      title={`Besides the animals of order ${order.number}`}
    >
      {({ close }) => (
        <RecordForm
          name={`stock-${order.id}`}
          schema={addStockFormSchema}
          action={addOrderStockAction}
          workspace={workspace}
          defaultValues={{ order: order.id, version: order.version, quantity: 1 }}
          onDone={() => {
            close()
            done('It goes with the order.')
          }}
          submitLabel="Put it on"
        >
          <StockItemFields items={items} currency={currency} />
          <p className="text-small text-soft">It leaves the stock when the order leaves.</p>
        </RecordForm>
      )}
    </DialogButton>
  )
}
