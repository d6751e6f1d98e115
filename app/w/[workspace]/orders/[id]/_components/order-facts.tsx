import Link from 'next/link'
import { type Fact, FactList } from '@/components/ui/fact-list'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import type { OrderPage } from '@/lib/features/order/loaders'

/** Person, place and days of an order. */
export function OrderFacts({ workspace, page }: { workspace: string; page: OrderPage }) {
  return (
    <section className="mt-8 max-w-2xl">
      <h2 className="mb-2">The order</h2>
      <FactList facts={listFacts(workspace, page)} />
    </section>
  )
}

function listFacts(workspace: string, { order, recipient, today }: OrderPage): Fact[] {
  const day = (on: string | null) => (on ? writeDay(on, today) : null)
  const address = [recipient.name, recipient.address, recipient.phone].filter(Boolean).join('\n')
  const facts: (Fact | null)[] = [
    address
      ? {
          term: 'Goes to',
          value: <span className="whitespace-pre-line">{address}</span>,
          note: 'Forgotten some days after the arrival.',
        }
      : null,
    order.area || order.country ? { term: 'Area', value: order.area || order.country } : null,
    order.way === 'sent' ? { term: 'On the way', value: writeCount(order.transitDays, 'day') } : null,
    order.notBefore ? { term: 'Not before', value: day(order.notBefore) } : null,
    order.awayOn.length > 0
      ? { term: 'Nobody is in on', value: order.awayOn.map((on) => writeDay(on, today)).join(', ') }
      : null,
    order.leftOn ? { term: order.way === 'sent' ? 'Left' : 'Collected', value: day(order.leftOn) } : null,
    order.carrier ? { term: 'Carrier', value: order.carrier } : null,
    order.saleId
      ? {
          term: 'Receipt',
          value: <Link href={`/w/${workspace}/sales/${order.saleId}`}>{order.receiptNumber}</Link>,
        }
      : null,
    order.warnings && order.warnings.length > 0
      ? {
          term: 'Spoke against it',
          value: order.warnings.map(({ message }) => message).join(' '),
        }
      : null,
    order.cancelledOn
      ? { term: 'Taken back', value: `${day(order.cancelledOn)}: ${order.cancelReason}` }
      : null,
    order.note ? { term: 'Note', value: order.note } : null,
    { term: 'Losses told within', value: writeCount(order.claimHours, 'hour') },
  ]
  return facts.filter((fact) => fact !== null)
}
