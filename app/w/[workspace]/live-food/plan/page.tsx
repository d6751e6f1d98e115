import { EmptyScreen } from '@/components/ui/empty-screen'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import { writeCount } from '@/lib/domain/calendar/wording'
import {
  type FoodPlanPage,
  loadFoodPlanPage,
  type PlanSums,
  type PlanWeekOnPage,
} from '@/lib/features/food-plan/loaders'
import { FoodPlaces } from '../_components/food-places'
import { AskPlan } from './_components/ask-plan'
import { PlanPending } from './_components/plan-pending'
import { PlanWeek } from './_components/plan-week'
import { TryPlan } from './_components/try-plan'

export const metadata = { title: 'Plan of live food' }

type Props = { params: Promise<{ workspace: string }> }

export default async function FoodPlanScreen({ params }: Props) {
  const { workspace } = await params
  const page = await loadFoodPlanPage(workspace)
  const { inForce, pending, failure, mayWrite, today, hatches } = page
  const ask = mayWrite && !pending ? <AskPlan workspace={workspace} isFirst={inForce === null} /> : null
  return (
    <>
      <PageHeader
        title="What to start"
        parent={{ href: `/w/${workspace}/live-food`, label: 'Live food' }}
        facts={inForce ? `planned ${inForce.made}, ${inForce.proof}` : 'no plan yet'}
        actions={inForce ? ask : null}
      />
      <FoodPlaces workspace={workspace} current="/plan" />
      {pending ? <PlanPending progress={pending.progress} isTrial={pending.isTrial} /> : null}
      {failure ? (
        <div className="mt-4">
          <Notice state="late" what="The last plan could not be made." why={failure} />
        </div>
      ) : null}
      {inForce === null ? (
        pending ? null : (
          <EmptyScreen title="Nothing is planned yet" action={ask}>
            <p>
              The plan looks at every animal, egg case and jar, plays them through many possible futures, and
              says what to start, order and throw out on which day, and for whom.
            </p>
          </EmptyScreen>
        )
      ) : (
        <>
          <p className="mt-2 max-w-3xl text-small text-soft">
            {inForce.since ? `Since then: ${inForce.since}. ` : 'Nothing has been written down since. '}
            It is planned anew some minutes after what it rests on changes, and every morning.
          </p>
          {inForce.notes.length > 0 ? (
            <ul
              aria-label="What the plan cannot do"
              className="mt-4 max-w-3xl list-disc space-y-1 ps-5 text-small"
            >
              {inForce.notes.map((note) => (
                <li key={note}>{note}</li>
              ))}
            </ul>
          ) : null}
          <Sums page={page} />
          {mayWrite && !pending ? (
            <div className="no-print mt-3">
              <TryPlan workspace={workspace} hatches={hatches} />
            </div>
          ) : null}
          {inForce.weeks.slice(0, FIRM_WEEKS).map((week) => (
            <PlanWeek key={week.from} week={week} today={today} />
          ))}
          <LaterWeeks weeks={inForce.weeks.slice(FIRM_WEEKS)} today={today} />
        </>
      )}
    </>
  )
}

/** Whole jars and packs are decided for these; what comes after is planned anew before it is due. */
const FIRM_WEEKS = 2

function LaterWeeks({ weeks, today }: { weeks: PlanWeekOnPage[]; today: string }) {
  if (weeks.length === 0) return null
  return (
    <details className="mt-8">
      <summary className="target inline-flex items-center font-semibold underline">
        The {writeCount(weeks.length, 'week')} after that, as far as can be seen
      </summary>
      {weeks.map((week) => (
        <PlanWeek key={week.from} week={week} today={today} />
      ))}
    </details>
  )
}

function Sums({ page: { inForce, trial, maySeeCosts, currency } }: { page: FoodPlanPage }) {
  if (!inForce) return null
  const money = new Intl.NumberFormat('en-GB', { style: 'currency', currency })
  const rows: [string, (sums: PlanSums) => string][] = [
    ['Jars to start', ({ starts }) => String(starts)],
    ['Packs to order', ({ packs }) => String(packs)],
    ['Animal-days without food, expected', ({ missed }) => String(Math.round(missed * 10) / 10)],
    ['Items nobody eats, expected', ({ surplus }) => String(Math.round(surplus))],
    ...(maySeeCosts
      ? [
          ['Cost, shortage and waste counted', ({ cost }: PlanSums) => money.format(cost / 100)] as [
            string,
            (sums: PlanSums) => string,
          ],
        ]
      : []),
  ]
  return (
    <section className="mt-6 max-w-3xl overflow-x-auto">
      <h2 className="mb-2">In all</h2>
      <table className="w-full text-start">
        <caption className="sr-only">The plan in sums{trial ? ', beside what was tried' : ''}</caption>
        <thead>
          <tr className="border-ink border-b text-fine-print text-soft">
            <th scope="col" className="py-1 pe-4 text-start font-semibold">
              Over all weeks
            </th>
            <th scope="col" className="py-1 pe-4 text-end font-semibold">
              The plan
            </th>
            {trial ? (
              <th scope="col" className="py-1 text-end font-semibold">
                Tried: {trial.words}
              </th>
            ) : null}
          </tr>
        </thead>
        <tbody>
          {rows.map(([term, say]) => (
            <tr key={term} className="border-line border-b">
              <th scope="row" className="py-1.5 pe-4 text-start font-normal">
                {term}
              </th>
              <td className="py-1.5 pe-4 text-end font-semibold">{say(inForce)}</td>
              {trial ? <td className="py-1.5 text-end">{say(trial)}</td> : null}
            </tr>
          ))}
        </tbody>
      </table>
      {inForce.missed > 1 ? (
        <p className="mt-2">
          <StateMark
            state="due"
            word={`About ${Math.round(inForce.missed)} animal-days without food cannot be avoided by starting jars.`}
          />
          <span className="block text-small text-soft">
            Ways out: buy flies for that week, keep a clutch or an egg case cooler, or sell earlier.
          </span>
        </p>
      ) : null}
    </section>
  )
}
