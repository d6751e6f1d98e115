'use client'

import { PAYMENT_WORDS } from '@/components/counter/payment-fields'
import { DialogButton } from '@/components/ui/dialog'
import { FormCheckbox, FormDate, FormNumber, FormRadio, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { spokenPrice } from '@/lib/domain/money/money'
import type { OrderPage } from '@/lib/features/order/loaders'
import { reverseOrderPaymentAction } from '@/lib/features/order-payment/actions'
import { paymentReversalFormSchema } from '@/lib/features/order-payment/schema'

type Props = {
  workspace: string
  page: Pick<OrderPage, 'order' | 'balance' | 'currency' | 'today' | 'state'>
  payment: OrderPage['order']['payments'][number]
}

/** Money of a payment that went back, whole or in part. The payment stays written down; this is beside it. */
export function GiveBack({ workspace, page, payment }: Props) {
  const done = useDone()
  const { order, balance, currency, today } = page
  const left = payment.amountMinor - payment.returnedMinor
  const proposed = balance.overMinor > 0 ? Math.min(left, balance.overMinor) : left
  return (
    <DialogButton label="Money went back" kind="quiet" title="Money of this payment went back">
      {({ close }) => (
        <RecordForm
          name={`back-${order.id}-${payment.number}`}
          schema={paymentReversalFormSchema}
          action={reverseOrderPaymentAction}
          workspace={workspace}
          defaultValues={{
            ...{ order: order.id, version: order.version, payment: payment.number, kind: payment.kind },
            ...{ on: today, reason: '', isWaived: page.state === 'to-settle' },
            amount: spokenPrice(proposed, currency),
          }}
          onDone={() => {
            close()
            done('Written down beside the payment.')
          }}
          submitLabel="Write it down"
        >
          <div className="[&_label]:min-w-fit">
            <FormRadio name="kind" label="It went back" look="tiles" choices={PAYMENT_WORDS} />
          </div>
          <FormNumber name="amount" label="How much" unit={currency} />
          <FormDate name="on" label="On" />
          <FormText name="reason" label="Why" />
          <FormCheckbox name="isWaived" label="It is no longer owed, as for a loss on the way" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
