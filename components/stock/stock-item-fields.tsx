'use client'

import { useWatch } from 'react-hook-form'
import { FormNumber, FormSelect, FormText } from '@/components/ui/form/form-field'

type Props = { items: { value: string; label: string }[]; currency: string; prefix?: string }

/** A thing of the stock that goes with an order: what has to be known of it follows from what it is. */
export function StockItemFields({ items, currency, prefix = '' }: Props) {
  const item: unknown = useWatch({ name: `${prefix}item` })
  const kind = String(item ?? '').split('~')[0] ?? ''
  const isSingle = kind === 'egg_case' || kind === 'culture'
  return (
    <>
      <FormSelect name={`${prefix}item`} label="What" placeholder="Choose one" choices={items} />
      {kind === 'other' ? <FormText name={`${prefix}description`} label="In words" /> : null}
      <div className="grid grid-cols-2 gap-3">
        {isSingle ? null : (
          <FormNumber name={`${prefix}quantity`} label={kind === 'pack' ? 'Packs' : 'How many'} isWhole />
        )}
        {kind === 'pack' ? (
          <FormNumber
            name={`${prefix}items`}
            label="Animals in a pack"
            isWhole
            hint="They leave the food supply when the order leaves."
          />
        ) : null}
        <FormNumber name={`${prefix}price`} label={isSingle ? 'Price' : 'Price each'} unit={currency} />
      </div>
    </>
  )
}
