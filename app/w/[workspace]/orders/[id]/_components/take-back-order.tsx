'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { cancelOrderAction } from '@/lib/features/order/actions'
import type { OrderPage } from '@/lib/features/order/loaders'
import { cancelFormSchema } from '@/lib/features/order/schema'

export function TakeBackOrder({ workspace, page }: { workspace: string; page: Pick<OrderPage, 'order'> }) {
  const done = useDone()
  const { order } = page
  return (
    <DialogButton label="Take it back" kind="quiet" title={`Take order ${order.number} back`}>
      {({ close }) => (
        <RecordForm
          name={`back-${order.id}`}
          schema={cancelFormSchema}
          action={cancelOrderAction}
          workspace={workspace}
          defaultValues={{ order: order.id, version: order.version, reason: '' }}
          onDone={() => {
            close()
            done('Taken back. What was on it is free again.')
          }}
          submitLabel="Take it back"
        >
          <p>What is on it is free again, and where it was to go is forgotten at once.</p>
          <FormText name="reason" label="Why" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
