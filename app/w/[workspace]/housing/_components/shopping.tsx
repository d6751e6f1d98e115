import { OrderKind } from '@/components/container/order-kind'
import { StateMark } from '@/components/ui/state-mark'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { pluralOf } from '@/lib/domain/separation/plan-words'
import type { HousingPage } from '@/lib/features/housing/loaders'

type Props = { workspace: string; page: HousingPage }

/** What to buy so that nobody waits for a container, and by when it has to be there. */
export function Shopping({ workspace, page }: Props) {
  const { shopping, unhoused, today, mayOrder } = page
  return (
    <section>
      <h2>To buy</h2>
      {unhoused ? (
        <p className="mt-1">
          <StateMark
            state="due"
            word={`a kind at least ${unhoused.heightMm} mm high and ${unhoused.widthMm} mm wide inside`}
          />{' '}
          <span className="text-small">
            for {writeCount(unhoused.animals, 'animal')} that no kind you have is large enough for
          </span>
        </p>
      ) : null}
      {shopping.length === 0 ? (
        <p className="mt-1 text-soft">
          Nothing: what is free, on order and becoming free lasts for eight weeks.
        </p>
      ) : (
        <ul className="mt-1 divide-y divide-line border-line border-y">
          {shopping.map(({ id, name, count, by }) => (
            <li key={id} className="flex flex-wrap items-center justify-between gap-x-6 py-1">
              <span className="flex flex-wrap items-center gap-x-4">
                <strong>
                  {count} {count === 1 ? name : pluralOf(name)}
                </strong>
                <StateMark
                  state={by <= today ? 'late' : 'due'}
                  word={by <= today ? 'wanted today' : `by ${writeDay(by, today)}`}
                />
              </span>
              {mayOrder ? (
                <div className="no-print -ms-4">
                  <OrderKind {...{ workspace, kindId: id, name, today }} suggested={{ count, on: by }} />
                </div>
              ) : null}
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}
