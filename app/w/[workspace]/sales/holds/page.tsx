import Link from 'next/link'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import { loadReservationsPage, type ReservationsPage } from '@/lib/features/reservation/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { AddHold, Release } from './_components/holds'
import { sayWish, WISH_STATES } from './_components/wish-words'
import { AddWish, EndWish } from './_components/wishes'

export const metadata = { title: 'Held and wished for' }

type Props = { params: Promise<{ workspace: string }> }

export default async function HoldsPage({ params }: Props) {
  const { workspace } = await params
  const page = await loadReservationsPage(workspace)
  const { holds, wishes, mayWrite, buyers } = page
  const actions =
    mayWrite && buyers.length > 0 ? (
      <>
        <AddHold workspace={workspace} page={page} />
        <AddWish workspace={workspace} page={page} />
      </>
    ) : null
  return (
    <>
      <PageHeader
        title="Held and wished for"
        facts={`${writeCount(holds.length, 'animal')} held, ${wishes.length} ${wishes.length === 1 ? 'wish' : 'wishes'} waiting`}
        actions={actions}
      />
      <SalesPlaces workspace={workspace} current="/holds" maySell={page.maySell} />
      {buyers.length === 0 ? (
        <EmptyScreen title="Nobody to hold anything for">
          <p>Add a buyer first: an animal is held, and a wish kept, for somebody.</p>
        </EmptyScreen>
      ) : (
        <>
          <Holds workspace={workspace} page={page} />
          <Wishes workspace={workspace} page={page} />
        </>
      )}
    </>
  )
}

type Part = { workspace: string; page: ReservationsPage }

function Holds({ workspace, page }: Part) {
  const { holds, today, mayWrite } = page
  return (
    <section className="mt-6 max-w-3xl">
      <h2>Held</h2>
      {holds.length === 0 ? (
        <p className="mt-2 text-soft">
          No animal is held. A hold is shown at the counter and ends by itself after its day.
        </p>
      ) : (
        <ul className="mt-2 divide-y divide-line border-line border-y">
          {holds.map((hold) => (
            <li key={hold.id} className="flex flex-wrap items-center justify-between gap-x-4 py-2">
              <span>
                <Link
                  href={`/w/${workspace}/individuals/${hold.individualId}`}
                  className="font-semibold tabular-nums"
                >
                  {formatCode(hold.label)}
                </Link>{' '}
                <i>{hold.scientificName}</i>
                <span className="block text-small text-soft">
                  for {hold.buyerName} until {writeDay(hold.until, today)}
                </span>
              </span>
              {mayWrite ? <Release workspace={workspace} hold={hold} /> : null}
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

function Wishes({ workspace, page }: Part) {
  const { wishes, today, mayWrite } = page
  return (
    <section className="mt-10 max-w-3xl">
      <h2>Wished for</h2>
      {wishes.length === 0 ? (
        <p className="mt-2 text-soft">
          Nobody waits. A wish is matched against what the room will hold on its day.
        </p>
      ) : (
        <ul className="mt-2 divide-y divide-line border-line border-y">
          {wishes.map((wish) => (
            <li key={wish.id} className="flex flex-wrap items-start justify-between gap-x-4 py-3">
              <div className="min-w-0">
                <p>
                  {sayWish(wish)} <i>{wish.scientificName}</i> by {writeDay(wish.by, today)}
                </p>
                <p className="text-small text-soft">for {wish.buyerName}</p>
                {wish.outlook ? (
                  <p className="mt-1">
                    <StateMark
                      state={WISH_STATES[wish.outlook.status]}
                      word={`${wish.outlook.status}: ${Math.round(wish.outlook.chance * 100)} %, about ${Math.round(wish.outlook.expected)} are expected`}
                    />
                  </p>
                ) : null}
              </div>
              {mayWrite ? <EndWish workspace={workspace} wish={wish} /> : null}
            </li>
          ))}
        </ul>
      )}
      <p className="mt-3 text-small text-soft">
        The first who wished is served first. Animals of unknown sex count for neither.
      </p>
    </section>
  )
}
