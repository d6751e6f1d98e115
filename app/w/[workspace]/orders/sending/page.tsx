import { PageHeader } from '@/components/ui/page-header'
import { writeCount, writeDay } from '@/lib/domain/calendar/wording'
import { listCountryChoices } from '@/lib/domain/place/choices'
import { loadSendingPage, type SendingPage } from '@/lib/features/dispatch/loaders'
import { OrderPlaces } from '../_components/order-places'
import { CloseForSending } from './_components/close-for-sending'
import { OpenForSending } from './_components/open-for-sending'
import { RulesForm } from './_components/rules-form'

export const metadata = { title: 'How we send' }

type Props = { params: Promise<{ workspace: string }> }

export default async function Sending({ params }: Props) {
  const { workspace } = await params
  const page = await loadSendingPage(workspace)
  return (
    <>
      <PageHeader
        title="How we send"
        parent={{ href: `/w/${workspace}/orders`, label: 'Orders' }}
        facts="Weekdays, days on the way, closed days"
      />
      <OrderPlaces workspace={workspace} current="/sending" />
      <section className="mt-6">
        <h2 className="mb-2">Rules</h2>
        {page.mayWrite ? (
          <RulesForm workspace={workspace} rules={page.rules} />
        ) : (
          <p>A box is {writeCount(page.rules.transitDays, 'day')} on the way.</p>
        )}
      </section>
      <Closed workspace={workspace} page={page} />
    </>
  )
}

function Closed({ workspace, page }: { workspace: string; page: SendingPage }) {
  const { closedDays, ownDays, today, mayWrite } = page
  return (
    <section className="mt-10 max-w-3xl">
      <h2>Closed days ahead</h2>
      <p className="text-small text-soft">
        Nothing is packed on them or right before them, at either end. Our own days off are those of live
        food: {ownDays.length === 0 ? 'none ahead' : ownDays.map(({ on }) => writeDay(on, today)).join(', ')}.
      </p>
      {closedDays.length > 0 ? (
        <ul aria-label="Closed days" className="mt-2 divide-y divide-line border-line border-y">
          {closedDays.map(({ country, on, note }) => (
            <li
              key={`${country}-${on}`}
              className="flex flex-wrap items-center justify-between gap-x-4 py-1.5"
            >
              <span>
                {writeDay(on, today)}, {country || 'everywhere'}
                {note ? <span className="text-soft">: {note}</span> : null}
              </span>
              {mayWrite ? <OpenForSending workspace={workspace} country={country} on={on} /> : null}
            </li>
          ))}
        </ul>
      ) : null}
      {mayWrite ? (
        <div className="no-print mt-3">
          <CloseForSending workspace={workspace} today={today} countries={listCountryChoices()} />
        </div>
      ) : null}
    </section>
  )
}
