'use client'

import { useFormContext } from 'react-hook-form'
import { FormSelect } from '@/components/ui/form/form-field'
import type { CounterPage } from '@/lib/features/sale/loaders'

type Props = { buyers: CounterPage['buyers']; onChoose: (buyer: string) => void }

const WORDS = { unknown: '', beginner: ', a beginner', experienced: ', experienced' }

/** For whom: what may leave depends on it, so the page is asked anew. */
export function BuyerChoice({ buyers, onChoose }: Props) {
  const { watch } = useFormContext()
  const chosen: unknown = watch('buyer')
  if (buyers.length === 0) return null
  return (
    <div onChange={(event) => onChoose(event.target instanceof HTMLSelectElement ? event.target.value : '')}>
      <FormSelect
        name="buyer"
        label="Buyer"
        isOptional
        placeholder="nobody named"
        hint={chosen ? 'The receipt is in their name.' : undefined}
        choices={buyers.map(({ id, name, experience }) => ({
          value: id,
          label: `${name}${WORDS[experience]}`,
        }))}
      />
    </div>
  )
}
