'use client'

import { useFormContext, useWatch } from 'react-hook-form'
import { readFigure } from '@/components/ui/form/form-input'
import { minorAmount, writeMoney } from '@/lib/domain/money/money'

/** What the prices typed so far come to. */
export function CounterTotal({ currency }: { currency: string }) {
  const { control } = useFormContext()
  const lines: { price?: unknown }[] = useWatch({ control, name: 'lines' }) ?? []
  const prices = lines.map(({ price }) => readFigure(price)).filter((price) => typeof price === 'number')
  const total = prices.reduce((sum, price) => sum + minorAmount(price, currency), 0)
  return (
    <p className="text-lead">
      Total <strong className="tabular-nums">{writeMoney(total, currency, 'en')}</strong>
    </p>
  )
}
