'use client'

import { useFormContext, useWatch } from 'react-hook-form'
import { readFigure } from '@/components/ui/form/form-input'
import { minorAmount, writeMoney } from '@/lib/domain/money/money'
import { priceBasket } from '@/lib/domain/sale/basket'
import { PAYMENT_KINDS, type PaidPart, settle } from '@/lib/domain/sale/payment'
import { proposedRate } from '@/lib/domain/sale/tax-rate'
import type { Rates } from './line-terms'

type Typed = Record<string, unknown>
type Props = { currency: string; pricesIncludeTax: boolean; rates: Rates }

/** What the prices typed so far come to, the tax in them, and the change. */
export function CounterTotal({ currency, pricesIncludeTax, rates }: Props) {
  const { control } = useFormContext()
  const [lines = [], stock = [], discount, payments = []]: [Typed[], Typed[], unknown, Typed[]] = useWatch({
    control,
    name: ['lines', 'stock', 'discount', 'payments'],
  }) as [Typed[], Typed[], unknown, Typed[]]
  const minor = (typed: unknown) => {
    const figure = readFigure(typed)
    return typeof figure === 'number' && figure > 0 ? minorAmount(figure, currency) : 0
  }
  const basket = priceBasket(
    [...lines.map((line) => ({ ...line, kind: 'animal' })), ...stock].map((line: Typed) => ({
      quantity: quantityOf(line),
      unitPriceMinor: minor(line.price),
      discountMinor: Math.min(minor(line.discount), quantityOf(line) * minor(line.price)),
      taxBasisPoints: rateOf(line, rates),
    })),
    { pricesIncludeTax, discountMinor: minor(discount) },
  )
  const settled = settle(basket.totalMinor, paidOf(payments, minor))
  const say = (amount: number) => writeMoney(amount, currency, 'en')
  return (
    <div aria-live="polite" className="space-y-1">
      <p className="text-lead">
        Total <strong className="tabular-nums">{say(basket.totalMinor)}</strong>
        {basket.discountMinor > 0 ? (
          <span className="text-small"> after {say(basket.discountMinor)} off</span>
        ) : null}
      </p>
      {basket.rates
        .filter(({ taxBasisPoints, grossMinor }) => taxBasisPoints > 0 && grossMinor > 0)
        .map(({ taxBasisPoints, taxMinor, netMinor }) => (
          <p key={taxBasisPoints} className="text-small text-soft tabular-nums">
            {pricesIncludeTax ? 'Includes' : 'With'} {taxBasisPoints / 100} % tax: {say(taxMinor)} on{' '}
            {say(netMinor)}
          </p>
        ))}
      {settled.status === 'settled' && settled.changeMinor > 0 ? (
        <p className="text-lead">
          Change <strong className="tabular-nums">{say(settled.changeMinor)}</strong>
        </p>
      ) : null}
      {settled.status === 'short' ? (
        <p className="text-small">{say(settled.missingMinor)} are still open.</p>
      ) : null}
    </div>
  )
}

function quantityOf(line: Typed): number {
  const figure = (typed: unknown) => {
    const read = readFigure(typed)
    return typeof read === 'number' && read > 0 ? Math.floor(read) : 0
  }
  if (line.kind === 'lot') return figure(line.males) + figure(line.females) + figure(line.unsexed)
  return line.quantity === undefined ? 1 : figure(line.quantity)
}

function rateOf(line: Typed, rates: Rates): number {
  const typed = readFigure(line.taxPercent)
  return typeof typed === 'number' ? Math.round(typed * 100) : proposedRate(rates, String(line.kind))
}

function paidOf(payments: readonly Typed[], minor: (typed: unknown) => number): PaidPart[] {
  return payments.flatMap(({ kind, amount }) => {
    const known = PAYMENT_KINDS.find((each) => each === kind)
    if (!known) return []
    return [{ kind: known, minor: typeof readFigure(amount) === 'number' ? minor(amount) : null }]
  })
}
