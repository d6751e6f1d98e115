import { Notice } from '@/components/ui/notice'
import { writeDay } from '@/lib/domain/calendar/wording'
import { writeMoney } from '@/lib/domain/money/money'
import type { OrderPage } from '@/lib/features/order/loaders'
import { GiveBack } from './give-back'
import { RecordPayment } from './record-payment'

const PAID = {
  cash: 'in cash',
  card: 'by card',
  transfer: 'by transfer',
  voucher: 'by voucher',
  other: 'otherwise',
} as const

type Entry = OrderPage['order']['payments'][number]
type Props = { workspace: string; page: OrderPage }

/** What was paid, what went back, and what is still owed: recorded, not processed. */
export function Payments({ workspace, page }: Props) {
  const { order, balance, currency, mayWrite } = page
  const { payments } = order
  return (
    <section className="mt-8 max-w-3xl">
      <h2>Payments</h2>
      <p className="mt-1">{sayBalance(page)}</p>
      {balance.overMinor > 0 ? (
        <div className="mt-2">
          <Notice
            state="due"
            what={`${writeMoney(balance.overMinor, currency, 'en')} more than is due: give it back.`}
          />
        </div>
      ) : null}
      {payments.length > 0 ? (
        <ul aria-label="Payments" className="mt-2 divide-y divide-line border-line border-y">
          {payments.map((entry) => (
            <li key={entry.number} className="flex flex-wrap items-center justify-between gap-x-6 py-2">
              <span>
                {sayEntry(entry, page)}
                {entry.note ? <span className="block text-small text-soft">{entry.note}</span> : null}
              </span>
              <span className="flex flex-wrap items-center gap-3 tabular-nums">
                {entry.reverses === null ? '' : '−'}
                {writeMoney(entry.amountMinor, currency, 'en')}
                {mayWrite && entry.reverses === null && entry.returnedMinor < entry.amountMinor ? (
                  <GiveBack workspace={workspace} page={page} payment={entry} />
                ) : null}
              </span>
            </li>
          ))}
        </ul>
      ) : null}
      {mayWrite && balance.owedMinor > 0 ? (
        <div className="no-print mt-3">
          <RecordPayment workspace={workspace} page={page} />
        </div>
      ) : null}
    </section>
  )
}

function sayBalance({ balance, order, currency, today }: OrderPage): string {
  const say = (minor: number) => writeMoney(minor, currency, 'en')
  const { owedMinor, paidMinor, dueMinor } = balance
  if (order.cancelledOn !== null) return 'The order was taken back: nothing is due.'
  if (owedMinor === 0 && order.paidOn)
    return `All of ${say(dueMinor)} was paid by ${writeDay(order.paidOn, today)}.`
  if (owedMinor === 0) return 'Nothing is due.'
  return paidMinor > 0
    ? `${say(owedMinor)} of ${say(dueMinor)} are still owed.`
    : `Nothing is paid yet. ${say(dueMinor)} are due.`
}

function sayEntry(
  { on, kind, reverses, returnedMinor, isWaived }: Entry,
  { today, currency }: OrderPage,
): string {
  const way = PAID[kind]
  if (reverses !== null)
    return `${writeDay(on, today)}, given back ${way}${isWaived ? ', and no longer owed' : ''}`
  const back = returnedMinor > 0 ? `, ${writeMoney(returnedMinor, currency, 'en')} of it went back` : ''
  return `${writeDay(on, today)}, ${way}${back}`
}
