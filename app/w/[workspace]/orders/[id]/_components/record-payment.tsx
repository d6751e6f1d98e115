'use client'

import { PAYMENT_WORDS } from '@/components/counter/payment-fields'
import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormRadio, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { spokenPrice } from '@/lib/domain/money/money'
import type { OrderPage } from '@/lib/features/order/loaders'
import { createOrderPaymentAction } from '@/lib/features/order-payment/actions'
import { paymentFormSchema } from '@/lib/features/order-payment/schema'

type Props = { workspace: string; page: Pick<OrderPage, 'order' | 'balance' | 'currency' | 'today'> }

/** What was paid, whole or in part. The service writes it down and moves no money. */
export function RecordPayment({ workspace, page: { order, balance, currency, today } }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Record a payment" kind="plain" title={`A payment for order ${order.number}`}>
      {({ close }) => (
        <RecordForm
          name={`paid-${order.id}`}
          schema={paymentFormSchema}
          action={createOrderPaymentAction}
          workspace={workspace}
          defaultValues={{
            ...{ order: order.id, version: order.version, kind: 'transfer', on: today, note: '' },
            amount: spokenPrice(balance.owedMinor, currency),
          }}
          onDone={() => {
            close()
            done('The payment is written down.')
          }}
          submitLabel="Write it down"
        >
          <div className="[&_label]:min-w-fit">
            <FormRadio name="kind" label="Paid by" look="tiles" choices={PAYMENT_WORDS} />
          </div>
          <FormNumber name="amount" label="How much" unit={currency} hint="Less, if it is a part of it." />
          <FormDate name="on" label="Paid on" />
          <FormText name="note" label="Note" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
