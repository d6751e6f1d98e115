import { LinkButton } from '@/components/ui/link-button'
import type { OrderPage } from '@/lib/features/order/loaders'

const SENT = [
  { kind: 'packing', label: 'Packing slip' },
  { kind: 'carrier', label: 'Notes for the carrier' },
]
const COLLECTED = [{ kind: 'collection', label: 'Collection slip' }]

/** What goes with it on paper, in the buyer’s language. */
export function ToPrint({ workspace, page }: { workspace: string; page: OrderPage }) {
  const { order, state, language } = page
  if (state === 'cancelled') return null
  const papers = order.way === 'sent' ? SENT : COLLECTED
  return (
    <section className="no-print mt-8">
      <h2>To print</h2>
      <p className="mt-2 flex flex-wrap gap-2">
        {papers.map(({ kind, label }) => (
          <LinkButton
            key={kind}
            href={`/w/${workspace}/orders/${order.id}/slip.pdf?kind=${kind}&language=${language}`}
            prefetch={false}
            target="_blank"
          >
            {label}
          </LinkButton>
        ))}
      </p>
      <p className="mt-2 max-w-2xl text-small text-soft">
        Rules for sending live animals differ by country and carrier: look up both before the first box.
      </p>
    </section>
  )
}
