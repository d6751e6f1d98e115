import Link from 'next/link'
import { writeMoney } from '@/lib/domain/money/money'
import type { OrderPage } from '@/lib/features/order/loaders'
import { AddStock } from './add-stock'
import { ChooseSafest } from './choose-safest'
import { RemoveStock } from './remove-stock'

const ARRIVED = { alive: 'alive', hurt: 'hurt', dead: 'dead' }

/** What was ordered, and who goes; what of the stock goes with them. */
export function AnimalsOfOrder({ workspace, page }: { workspace: string; page: OrderPage }) {
  const { lines, order, currency, dispatch, mayWrite } = page
  const isOpen = dispatch !== null
  const missing = lines.some(({ count, chosen }) => chosen.length < count)
  return (
    <section className="mt-8 max-w-3xl">
      <h2>{sayWhat(isOpen, lines.length > 0)}</h2>
      <ul aria-label="Lines" className="mt-2 divide-y divide-line border-line border-y">
        {lines.map(({ number, words, count, priceMinor, chosen }) => (
          <li key={number} className="py-3">
            <p className="flex flex-wrap items-baseline justify-between gap-x-6">
              <span className="font-semibold">
                {count} × {words}
              </span>
              <span className="tabular-nums">{writeMoney(count * priceMinor, currency, 'en')}</span>
            </p>
            <p className="mt-1 flex flex-wrap gap-x-4 text-small">
              {chosen.map(({ id, code, arrived }) => (
                <span key={id}>
                  <Link href={`/w/${workspace}/individuals/${id}`} className="inline-block py-1 tabular-nums">
                    {code}
                  </Link>
                  {arrived ? ` ${ARRIVED[arrived]}` : ''}
                </span>
              ))}
              {isOpen && chosen.length < count ? (
                <span className="py-1 text-soft">
                  {chosen.length === 0 ? 'nobody chosen yet' : `${count - chosen.length} still to be chosen`}
                </span>
              ) : null}
            </p>
          </li>
        ))}
        {order.stock.map((line) => (
          <li key={`thing ${line.number}`} className="py-3">
            <p className="flex flex-wrap items-baseline justify-between gap-x-6">
              <span className="font-semibold">
                {line.quantity} × {line.description}
              </span>
              <span className="tabular-nums">
                {writeMoney(line.quantity * line.priceMinor, currency, 'en')}
              </span>
            </p>
            {isOpen && mayWrite ? (
              <div className="no-print -ms-4">
                <RemoveStock workspace={workspace} order={order} line={line} />
              </div>
            ) : null}
          </li>
        ))}
      </ul>
      {isOpen && missing && mayWrite ? <ChooseSafest workspace={workspace} page={page} /> : null}
      {isOpen && mayWrite ? (
        <div className="no-print mt-3">
          <AddStock workspace={workspace} page={page} />
        </div>
      ) : null}
    </section>
  )
}

function sayWhat(isOpen: boolean, hasAnimals: boolean): string {
  if (hasAnimals) return isOpen ? 'Who goes' : 'Who went'
  return isOpen ? 'What goes' : 'What went'
}
