import type { ReactNode } from 'react'

export type Fact = { term: string; value: ReactNode; note?: ReactNode }

/** Terms and values under hairlines. A fact without a value is left out by whoever lists them. */
export function FactList({ facts }: { facts: readonly Fact[] }) {
  return (
    <dl className="divide-y divide-line border-line border-y">
      {facts.map((fact) => (
        <div key={fact.term} className="grid grid-cols-[minmax(7rem,2fr)_5fr] items-baseline gap-x-4 py-2">
          <dt className="text-small text-soft">{fact.term}</dt>
          <dd className="min-w-0">
            {fact.value}
            {fact.note ? <span className="block text-fine-print text-soft">{fact.note}</span> : null}
          </dd>
        </div>
      ))}
    </dl>
  )
}
