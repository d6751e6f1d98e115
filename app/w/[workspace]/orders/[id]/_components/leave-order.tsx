'use client'

import { useRouter } from 'next/navigation'
import { PAYMENT_WORDS } from '@/components/counter/payment-fields'
import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { Notice } from '@/components/ui/notice'
import { showToast } from '@/components/ui/toast'
import { writeMoney } from '@/lib/domain/money/money'
import type { OrderPage } from '@/lib/features/order/loaders'
import { leavingFormSchema } from '@/lib/features/order/schema'
import { sellOrderAction } from '@/lib/features/sale/actions'

type Shown = 'order' | 'lines' | 'today' | 'dispatch' | 'balance' | 'currency'
type Props = { workspace: string; page: Pick<OrderPage, Shown> }

/** Packed and sent, or handed over. What speaks against today is said before, and refuses nothing. */
export function LeaveOrder({ workspace, page }: Props) {
  const done = useDone()
  const router = useRouter()
  const { order, lines, today, dispatch, balance, currency } = page
  const isSent = order.way === 'sent'
  const isMissing = lines.some(({ count, chosen }) => chosen.length < count)
  const canToday = dispatch?.answer.days[0]?.packOn === today
  return (
    <DialogButton
      label={isSent ? 'It is packed' : 'Hand it over'}
      kind={canToday ? 'filled' : 'plain'}
      title={isSent ? `Order ${order.number} leaves` : `Order ${order.number} is collected`}
    >
      {({ close }) =>
        isMissing ? (
          <Notice
            state="due"
            what="Not every place has an animal yet."
            why="Choose them first, or split the order. Which animals left is what the receipt says."
          />
        ) : (
          <RecordForm
            name={`leave-${order.id}`}
            schema={leavingFormSchema}
            action={sellOrderAction}
            workspace={workspace}
            defaultValues={{
              order: order.id,
              version: order.version,
              on: today,
              carrier: '',
              note: '',
              restBy: '',
            }}
            onDone={() => {
              close()
              done('Recorded, with its receipt.')
              showToast({ what: 'It is sold now.' })
              router.refresh()
            }}
            submitLabel={isSent ? 'It has left' : 'It was handed over'}
          >
            {canToday ? null : (
              <Notice
                state="leave-alone"
                what="The days above advise against today."
                why="If it leaves all the same, that is recorded with what spoke against it."
              />
            )}
            <FormDate name="on" label={isSent ? 'Packed on' : 'Collected on'} />
            {isSent ? <FormText name="carrier" label="Carrier, number" isOptional /> : null}
            {balance.owedMinor > 0 ? (
              <FormSelect
                name="restBy"
                label={`The ${writeMoney(balance.owedMinor, currency, 'en')} still owed`}
                isOptional
                choices={[
                  { value: '', label: 'are not paid yet' },
                  ...PAYMENT_WORDS.map(({ value, label }) => ({ value, label: `were paid: ${label}` })),
                ]}
              />
            ) : null}
            <FormText name="note" label="Note on the receipt" isOptional />
          </RecordForm>
        )
      }
    </DialogButton>
  )
}
