import { writeDay } from '@/lib/domain/calendar/wording'
import type { ReceiptPage } from '@/lib/features/sale/loaders'
import { sayMoney } from './receipt-lines'

const BACK_WORDS = {
  cash: 'Given back in cash',
  card: 'Given back to the card',
  transfer: 'Given back by transfer',
  voucher: 'Given back as a voucher',
  other: 'Given back',
} as const

const PAID_WORDS = {
  cash: 'In cash',
  card: 'By card',
  transfer: 'By transfer',
  voucher: 'By voucher',
  other: 'Otherwise',
} as const

/** Taxes by rate, how it was paid, and what came back. */
export function ReceiptSums({ page }: { page: ReceiptPage }) {
  const { taxes, taxIncluded, payments, refunds, owed, returns, total, certifiedNumber } = page.sale
  const onDay = (words: string, on: string) =>
    on === page.sale.on ? words : `${words}, ${writeDay(on, page.today)}`
  const change = payments.reduce(
    (sum, { amount, given }) => sum + (given ? given.amount - amount.amount : 0),
    0,
  )
  return (
    <div className="max-w-3xl space-y-1 text-small">
      {taxes
        .filter(({ percent }) => percent > 0)
        .map(({ percent, tax, net }) => (
          <p key={percent} className="flex justify-between gap-4 tabular-nums">
            <span>
              {taxIncluded ? 'Includes' : 'With'} {percent} % tax on {sayMoney(net)}
            </span>
            <span>{sayMoney(tax)}</span>
          </p>
        ))}
      {payments.map(({ kind, on, amount, given }) => (
        <p key={`${kind} ${on} ${amount.amount}`} className="flex justify-between gap-4 tabular-nums">
          <span>
            {given && given.amount > amount.amount
              ? `In cash, ${sayMoney(given)} handed over`
              : onDay(PAID_WORDS[kind], on)}
          </span>
          <span>{sayMoney(amount)}</span>
        </p>
      ))}
      {refunds.map(({ kind, on, amount }) => (
        <p key={`${kind} ${on} ${amount.amount}`} className="flex justify-between gap-4 tabular-nums">
          <span>{onDay(BACK_WORDS[kind], on)}</span>
          <span>−{sayMoney(amount)}</span>
        </p>
      ))}
      {owed && owed.amount > 0 ? (
        <p className="flex justify-between gap-4 font-semibold tabular-nums">
          <span>Still to be paid</span>
          <span>{sayMoney(owed)}</span>
        </p>
      ) : null}
      {change > 0 ? (
        <p className="flex justify-between gap-4 font-semibold tabular-nums">
          <span>Change</span>
          <span>{sayMoney({ amount: change, currency: total.currency })}</span>
        </p>
      ) : null}
      {certifiedNumber ? <p>Receipt of the certified till: {certifiedNumber}</p> : null}
      {returns.map(({ id, returnNumber, on, reason, refund }) => (
        <p key={id} className="flex justify-between gap-4 border-line border-t pt-1 tabular-nums">
          <span>
            Return {returnNumber}, {writeDay(on, page.today)}: {reason}
          </span>
          <span>−{sayMoney(refund)}</span>
        </p>
      ))}
    </div>
  )
}
