'use client'

import { FormNumber, FormSelect } from '@/components/ui/form/form-field'
export type Rates = { name: string; basisPoints: number; appliesTo: string[] }[]

/** Discount and rate of tax of one line: rarely touched, so folded away. */
export function LineTerms({ name, currency, rates }: { name: string; currency: string; rates: Rates }) {
  return (
    <details>
      <summary className="target cursor-pointer py-3 text-small">Discount, tax</summary>
      <div className="space-y-3 pb-2">
        <FormNumber name={`${name}.discount`} label="Off this line" unit={currency} isOptional />
        {rates.length > 0 ? (
          <FormSelect
            name={`${name}.taxPercent`}
            label="Rate of tax"
            isOptional
            placeholder="as set for its kind"
            choices={rates.map(({ name: word, basisPoints }) => ({
              value: String(basisPoints / 100),
              label: `${word} (${basisPoints / 100} %)`,
            }))}
          />
        ) : null}
      </div>
    </details>
  )
}
