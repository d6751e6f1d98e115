'use client'

import { writeMoney } from '@/lib/domain/money/money'
import type { StallPart } from '@/lib/features/stall/schema'

type Props = {
  kept: StallPart
  sold: ReadonlyMap<number, number>
  chosen: readonly number[]
  onChoose: (number: number) => void
}

/** Cups, jars, food: what was packed besides animals, and how many of it should be left. */
export function ItemChoice({ kept, sold, chosen, onChoose }: Props) {
  const items = kept.items ?? []
  if (items.length === 0) return null
  return (
    <section aria-label="Besides animals, in this part of the box">
      <h2 className="text-base">Besides animals</h2>
      <ul className="mt-1 divide-y divide-line border-line border-y">
        {items.map((item) => {
          const left = item.packed - item.sold - (sold.get(item.number) ?? 0)
          return (
            <li key={item.number}>
              <button
                type="button"
                className="target flex w-full flex-wrap items-baseline justify-between gap-x-4 px-1 py-2 text-start hover:bg-wash disabled:opacity-60"
                disabled={chosen.includes(item.number)}
                onClick={() => onChoose(item.number)}
              >
                <span>
                  <span className="font-semibold">{item.description}</span>{' '}
                  <span className="text-small">
                    {left > 0 ? `${left} left` : 'none left by the count; it can be sold all the same'}
                  </span>
                </span>
                <span className="text-small tabular-nums">
                  {chosen.includes(item.number)
                    ? 'on the counter'
                    : writeMoney(item.priceMinor, kept.workspace.currency, 'en')}
                </span>
              </button>
            </li>
          )
        })}
      </ul>
    </section>
  )
}
