'use client'

import { LineTerms, type Rates } from '@/components/counter/line-terms'
import { useFormLines } from '@/components/counter/use-form-lines'
import { Button } from '@/components/ui/button'
import { FormNumber } from '@/components/ui/form/form-field'
import { Notice } from '@/components/ui/notice'
import { spokenPrice } from '@/lib/domain/money/money'
import { priceOfStock } from '@/lib/domain/price/price-list'
import type { CounterPage } from '@/lib/features/sale/loaders'

type Stock = CounterPage['stock'][number]
type Prices = CounterPage['terms']['prices']
type Props = {
  stock: Stock[]
  currency: string
  rates: Rates
  prices: Prices
  onRemove: (key: string) => void
}

const ID_FIELD = {
  lot: 'clutch',
  egg_case: 'eggCase',
  culture: 'culture',
  container: 'containerKind',
  pack: 'line',
} as const

const keyOf = (line: Record<string, unknown>) =>
  `${line.kind}~${Object.values(ID_FIELD)
    .map((field) => line[field] ?? '')
    .join('')}`

/** One line for everything that is no single animal. */
export function StockLines({ stock, currency, rates, prices, onRemove }: Props) {
  const lines = stock.map(({ kind, id, speciesId }) => ({
    kind,
    [ID_FIELD[kind]]: id,
    price: spokenPrice(priceOfStock(prices, { kind, id, speciesId }), currency),
    overrideReason: '',
    ...(kind === 'container' || kind === 'pack' ? { quantity: 1 } : {}),
  }))
  useFormLines('stock', lines, keyOf)
  if (stock.length === 0) return null
  return (
    <ul aria-label="Besides animals" className="divide-y divide-line border-line border-y">
      {stock.map((item, index) => (
        <li
          key={`${item.kind}~${item.id}`}
          className="grid gap-x-6 gap-y-3 py-4 desk:grid-cols-[minmax(0,1fr)_12rem]"
        >
          <div className="min-w-0 space-y-3">
            <p className="font-semibold">{item.label}</p>
            {item.kept ? (
              <Notice state="leave-alone" what="You cannot sell it today." why={item.kept} />
            ) : null}
            <StockAmount item={item} name={`stock.${index}`} />
          </div>
          <div className="space-y-2">
            <FormNumber
              name={`stock.${index}.price`}
              label={item.kind === 'egg_case' || item.kind === 'culture' ? 'Price' : 'Price for one'}
              unit={currency}
            />
            <LineTerms name={`stock.${index}`} currency={currency} rates={rates} />
            <Button
              kind="quiet"
              className="-ms-4"
              onClick={() => onRemove(`${item.kind}~${item.id}`)}
              aria-label={`Take ${item.label} off`}
            >
              Take it off
            </Button>
          </div>
        </li>
      ))}
    </ul>
  )
}

function StockAmount({ item, name }: { item: Stock; name: string }) {
  if (item.kind === 'lot')
    return (
      <>
        <p className="text-small text-soft">{item.left} are together.</p>
        <div className="flex flex-wrap gap-3">
          <FormNumber name={`${name}.males`} label="Males" isWhole isOptional className="max-w-20" />
          <FormNumber name={`${name}.females`} label="Females" isWhole isOptional className="max-w-20" />
          <FormNumber name={`${name}.unsexed`} label="Unsexed" isWhole isOptional className="max-w-20" />
        </div>
      </>
    )
  if (item.kind === 'container')
    return (
      <>
        <p className="text-small text-soft">{item.left} are free.</p>
        <FormNumber name={`${name}.quantity`} label="How many" isWhole className="max-w-24" />
      </>
    )
  if (item.kind === 'pack')
    return (
      <div className="flex flex-wrap gap-3">
        <FormNumber name={`${name}.quantity`} label="Packs" isWhole className="max-w-24" />
        <FormNumber
          name={`${name}.items`}
          label="Animals in a pack"
          isWhole
          className="max-w-24"
          hint="They leave the food supply."
        />
      </div>
    )
  return null
}
