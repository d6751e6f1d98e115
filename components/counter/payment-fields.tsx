'use client'

import { useEffect } from 'react'
import { useFormContext, useWatch } from 'react-hook-form'
import { FormNumber, FormRadio, FormSelect } from '@/components/ui/form/form-field'

export const PAYMENT_WORDS = [
  { value: 'cash', label: 'Cash' },
  { value: 'card', label: 'Card' },
  { value: 'transfer', label: 'Transfer' },
  { value: 'voucher', label: 'Voucher' },
  { value: 'other', label: 'Otherwise' },
]

/** How it was paid. The service writes it down and moves no money. */
export function PaymentFields({ currency }: { currency: string }) {
  const { setValue } = useFormContext()
  const kind: unknown = useWatch({ name: 'payments.0.kind' })
  // What was handed over in cash says nothing about a card.
  useEffect(() => {
    if (kind !== 'cash') setValue('payments.0.amount', '')
  }, [kind, setValue])
  return (
    <div className="space-y-3 border-line border-t pt-4">
      {/* On a phone a tile that has no room for its word goes into the next row. */}
      <div className="[&_label]:min-w-fit">
        <FormRadio name="payments.0.kind" label="Paid by" look="tiles" choices={PAYMENT_WORDS} />
      </div>
      {kind === 'cash' ? (
        <FormNumber
          name="payments.0.amount"
          label="Handed over"
          unit={currency}
          isOptional
          hint="For the change. Left empty: exactly."
        />
      ) : null}
      <details>
        <summary className="target cursor-pointer py-3 text-small">
          Off the whole, or paid in two ways
        </summary>
        <div className="space-y-3 pb-2">
          <FormNumber name="discount" label="Off the whole" unit={currency} isOptional />
          <FormSelect
            name="payments.1.kind"
            label="Part of it by"
            isOptional
            placeholder="one way only"
            choices={PAYMENT_WORDS}
          />
          <FormNumber name="payments.1.amount" label="That part" unit={currency} isOptional />
        </div>
      </details>
    </div>
  )
}
