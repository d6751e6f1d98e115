'use client'

import { LineTerms } from '@/components/counter/line-terms'
import { useFormLines } from '@/components/counter/use-form-lines'
import { Button } from '@/components/ui/button'
import { FormNumber, FormText } from '@/components/ui/form/form-field'
import { spokenPrice } from '@/lib/domain/money/money'
import type { StallItem, StallPart } from '@/lib/features/stall/schema'

type Props = { kept: StallPart; things: StallItem[]; isOther: boolean; onRemove: (number: number) => void }

const keyOf = ({ kind, item }: Record<string, unknown>) => `${kind} ${item ?? ''}`

/** What lies in the box besides animals, and last whatever is not in it, in words. */
export function StallStockLines({ kept, things, isOther, onRemove }: Props) {
  const { currency } = kept.workspace
  const goods = things.map(({ kind, number, priceMinor }) => ({
    ...{ kind, item: number, quantity: 1, overrideReason: '' },
    price: spokenPrice(priceMinor, currency),
  }))
  const other = { kind: 'other', description: '', quantity: 1, price: '' }
  // They may join a form that is open already.
  useFormLines('stock', isOther ? [...goods, other] : goods, keyOf)
  return (
    <>
      {things.length > 0 ? (
        <ul aria-label="Besides animals" className="divide-y divide-line border-line border-y">
          {things.map(({ number, description }, index) => (
            <li key={number} className="space-y-3 py-4">
              <p className="font-semibold">{description}</p>
              <Amount name={`stock.${index}`} kept={kept} />
              <Button
                kind="quiet"
                className="-ms-4"
                onClick={() => onRemove(number)}
                aria-label={`Take ${description} off`}
              >
                Take it off
              </Button>
            </li>
          ))}
        </ul>
      ) : null}
      {isOther ? <OtherLine name={`stock.${things.length}`} kept={kept} /> : null}
    </>
  )
}

function Amount({ name, kept }: { name: string; kept: StallPart }) {
  return (
    <>
      <div className="flex flex-wrap gap-3">
        <FormNumber name={`${name}.quantity`} label="How many" isWhole className="max-w-24" />
        <FormNumber name={`${name}.price`} label="Price for one" unit={kept.workspace.currency} />
      </div>
      <LineTerms name={name} currency={kept.workspace.currency} rates={kept.terms.rates} />
    </>
  )
}

/** In words, since what is on the shelf at home is not on this device. */
function OtherLine({ name, kept }: { name: string; kept: StallPart }) {
  return (
    <fieldset className="space-y-3 border-line border-y py-4">
      <legend className="sr-only">Something that is not in the box</legend>
      <FormText name={`${name}.description`} label="What it is" />
      <Amount name={name} kept={kept} />
      <p className="text-small text-soft">
        It does not leave the stock by itself: count that at home. What was packed does.
      </p>
    </fieldset>
  )
}
