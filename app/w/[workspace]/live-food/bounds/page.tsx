import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { type BoundsPage, loadBoundsPage } from '@/lib/features/food-room/loaders'
import { FoodPlaces } from '../_components/food-places'
import { AddMouth } from './_components/add-mouth'
import { CloseDays } from './_components/close-days'
import { EndMouth } from './_components/end-mouth'
import { FoodLimitsForm } from './_components/food-limits-form'
import { OpenDay } from './_components/open-day'

export const metadata = { title: 'Others, days, limits' }

type Props = { params: Promise<{ workspace: string }> }

const SHORT = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun']

export default async function BoundsScreen({ params }: Props) {
  const { workspace } = await params
  const page = await loadBoundsPage(workspace)
  return (
    <>
      <PageHeader
        title="Others, days, limits"
        parent={{ href: `/w/${workspace}/live-food`, label: 'Live food' }}
        facts="Who else eats, when nobody works, and how much can be done"
      />
      <FoodPlaces workspace={workspace} current="/bounds" />
      <Mouths workspace={workspace} page={page} />
      <ClosedDays workspace={workspace} page={page} />
      <section className="mt-10">
        <h2 className="mb-2">Limits</h2>
        {page.mayWrite ? (
          <FoodLimitsForm workspace={workspace} limits={page.limits} />
        ) : (
          <p>
            Jars are started on {page.limits.startWeekdays.map((day) => SHORT[day - 1]).join(', ')}; nobody
            should go short in {Math.round(page.limits.serviceLevel * 1000) / 10} of a hundred weeks.
          </p>
        )}
      </section>
    </>
  )
}

type SectionProps = { workspace: string; page: BoundsPage }

function Mouths({ workspace, page: { mouths, lines, mayWrite, today } }: SectionProps) {
  return (
    <section className="mt-6 max-w-3xl">
      <h2>Other mouths</h2>
      {mouths.length === 0 ? (
        <p className="text-soft">
          Nobody yet. Frogs, spiders, a customer’s weekly box: what they take again and again belongs here, so
          that the plan counts it.
        </p>
      ) : (
        <ul aria-label="Other mouths" className="divide-y divide-line border-line border-y">
          {mouths.map(({ id, version, name, lineName, itemsEachTime, weekdays, from, until }) => (
            <li key={id} className="flex flex-wrap items-center justify-between gap-x-4 py-1.5">
              <span className="min-w-0">
                <span className="font-semibold">{name}</span>
                <span className="block text-small text-soft">
                  {itemsEachTime} of {lineName} on {weekdays.map((day) => SHORT[day - 1]).join(', ')}
                  {from && from > today ? `, from ${writeDay(from, today)}` : ''}
                  {until ? `, until ${writeDay(until, today)}` : ''}
                </span>
              </span>
              {mayWrite ? <EndMouth workspace={workspace} mouth={{ id, version, name }} /> : null}
            </li>
          ))}
        </ul>
      )}
      {mayWrite ? (
        <div className="no-print mt-3">
          <AddMouth workspace={workspace} lines={lines} />
        </div>
      ) : null}
    </section>
  )
}

function ClosedDays({ workspace, page: { closedDays, mayWrite, today } }: SectionProps) {
  return (
    <section className="mt-10 max-w-3xl">
      <h2>Closed days</h2>
      {closedDays.length === 0 ? (
        <p className="text-soft">None ahead. Holidays of the supplier and our own move orders and starts.</p>
      ) : (
        <ul aria-label="Closed days" className="divide-y divide-line border-line border-y">
          {closedDays.map(({ side, on, note }) => (
            <li key={`${side}-${on}`} className="flex flex-wrap items-center justify-between gap-x-4 py-1.5">
              <span>
                {writeDay(on, today)}, {side === 'supplier' ? 'the supplier' : 'nobody works here'}
                {note ? <span className="text-soft">: {note}</span> : null}
              </span>
              {mayWrite ? <OpenDay workspace={workspace} side={side} on={on} /> : null}
            </li>
          ))}
        </ul>
      )}
      {mayWrite ? (
        <div className="no-print mt-3">
          <CloseDays workspace={workspace} today={today} />
        </div>
      ) : null}
    </section>
  )
}
