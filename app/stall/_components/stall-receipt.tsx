'use client'

import { useEffect, useRef } from 'react'
import type { KeptReceipt } from '@/components/stall/stall-store'
import { Button } from '@/components/ui/button'
import { writeLongDay } from '@/lib/domain/calendar/wording'
import { writeMoney } from '@/lib/domain/money/money'
import { type PricedBasket, priceBasket } from '@/lib/domain/sale/basket'
import { writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import { NO_CERTIFIED_TILL } from '@/lib/domain/sale/receipt-words'
import type { StallPart } from '@/lib/features/stall/schema'

type Props = { kept: StallPart; receipt: KeptReceipt; onNext: () => void }

/** The receipt as it is handed over: printed by the browser, since no file can be fetched here. */
export function StallReceipt({ kept, receipt, onNext }: Props) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => heading.current?.focus(), [])
  const { workspace, terms } = kept
  const { sent, totalMinor, changeMinor } = receipt
  const number = writeReceiptNumber({ series: sent.series, receiptNumber: sent.number })
  const say = (minor: number) => writeMoney(minor, sent.currency, 'en')
  const lines = linesOf(receipt)
  const basket = priceBasket(lines, {
    pricesIncludeTax: sent.taxIncluded,
    discountMinor: sent.discountMinor ?? 0,
  })
  return (
    <section aria-label={`Receipt ${number}`} className="space-y-4">
      <div className="no-print flex flex-wrap gap-3">
        <Button kind="filled" onClick={() => window.print()}>
          Print the receipt
        </Button>
        <Button onClick={onNext}>Next customer</Button>
      </div>
      {changeMinor > 0 ? (
        <p className="no-print text-lead">
          Change <strong className="tabular-nums">{say(changeMinor)}</strong>
        </p>
      ) : null}
      <div className="max-w-sm space-y-3 border border-line bg-sheet p-4 print:border-0 print:bg-transparent print:p-0">
        <p className="font-name font-semibold text-name">{workspace.name}</p>
        {workspace.contact ? <p className="whitespace-pre-line text-small">{workspace.contact}</p> : null}
        <div>
          <h2 ref={heading} tabIndex={-1} className="font-semibold text-base tabular-nums">
            Receipt {number}
          </h2>
          <p className="text-small">{writeLongDay(sent.on)}</p>
          <p className="text-small">Sold by {kept.person.name}</p>
          {sent.buyer ? <p className="whitespace-pre-line text-small">For {sent.buyer.name}</p> : null}
          {sent.buyer?.address ? (
            <p className="whitespace-pre-line text-small">{sent.buyer.address}</p>
          ) : null}
          {sent.certifiedNumber ? (
            <p className="text-small">Receipt of the certified till: {sent.certifiedNumber}</p>
          ) : null}
        </div>
        <ul className="divide-y divide-line border-line border-y">
          {lines.map(({ words, quantity, unitPriceMinor }, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: the lines of a written receipt never change places
            <li key={index} className="flex justify-between gap-4 py-2 text-small">
              <span>
                {quantity > 1 ? `${quantity} × ` : ''}
                {words}
              </span>
              <span className="tabular-nums">{say(basket.lines[index]?.priceMinor ?? unitPriceMinor)}</span>
            </li>
          ))}
        </ul>
        <Sums basket={basket} taxIncluded={sent.taxIncluded} say={say} totalMinor={totalMinor} />
        {sent.note ? <p className="whitespace-pre-line text-small">{sent.note}</p> : null}
        {terms.receiptWords ? <p className="whitespace-pre-line text-small">{terms.receiptWords}</p> : null}
        <p className="text-fine-print">{NO_CERTIFIED_TILL}</p>
      </div>
    </section>
  )
}

type SumProps = {
  basket: PricedBasket
  taxIncluded: boolean
  totalMinor: number
  say: (minor: number) => string
}

function Sums({ basket, taxIncluded, totalMinor, say }: SumProps) {
  return (
    <div>
      <p className="flex justify-between gap-4 font-semibold">
        <span>Total</span>
        <span className="tabular-nums">{say(totalMinor)}</span>
      </p>
      {basket.rates
        .filter(({ taxBasisPoints }) => taxBasisPoints > 0)
        .map(({ taxBasisPoints, netMinor, taxMinor }) => (
          <p key={taxBasisPoints} className="flex justify-between gap-4 text-small">
            <span>
              {taxIncluded ? 'Includes' : 'With'} {taxBasisPoints / 100} % tax on {say(netMinor)}
            </span>
            <span className="tabular-nums">{say(taxMinor)}</span>
          </p>
        ))}
    </div>
  )
}

function linesOf({ sent }: KeptReceipt) {
  const animals = sent.animals.map((line) => ({ ...line, words: line.description, quantity: 1 }))
  const goods = (sent.goods ?? []).map((line) => ({ ...line, words: line.description }))
  const others = (sent.others ?? []).map((line) => ({ ...line, words: line.description }))
  return [...animals, ...goods, ...others].map((line) => ({
    ...line,
    discountMinor: line.discountMinor ?? 0,
  }))
}
