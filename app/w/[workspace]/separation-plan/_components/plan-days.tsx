import Link from 'next/link'
import { LatinName } from '@/components/ui/latin-name'
import { writeLongDay } from '@/lib/domain/calendar/wording'
import { writeMinutes } from '@/lib/domain/separation/bench-hours'
import { feedingMinutesOf, type PlanDay, type SeparationPlan } from '@/lib/domain/separation/plan'
import type { SeparationRoom } from '@/lib/domain/separation/plan-room'
import { pluralOf } from '@/lib/domain/separation/plan-words'
import type { SeparationPlanPage } from '@/lib/features/separation-plan/loaders'

type Props = { workspace: string; page: SeparationPlanPage; plan: SeparationPlan; room: SeparationRoom }

/** Evening by evening: who, how many, into what, and how much of the evening it takes. */
export function PlanDays({ workspace, page, plan, room }: Props) {
  const used = plan.days.filter(({ moves }) => moves.length > 0)
  return (
    <section>
      <h2>Evenings at the bench</h2>
      {used.length === 0 ? (
        <p className="mt-2 text-soft">
          {plan.expectedLosses < 0.5
            ? 'Nobody has to be parted in these four weeks.'
            : 'With these hours and containers nobody can be parted.'}
        </p>
      ) : (
        <ol className="mt-2 divide-y divide-line border-line border-y">
          {used.map((day) => (
            <Evening
              key={day.on}
              {...{ workspace, page, day }}
              feeding={feedingMinutesOf(day, room.labour)}
              minutes={room.days.find(({ on }) => on === day.on)?.minutes ?? 0}
            />
          ))}
        </ol>
      )}
    </section>
  )
}

type EveningProps = {
  workspace: string
  page: SeparationPlanPage
  day: PlanDay
  feeding: number
  minutes: number
}

/** Below this it is not worth a word. */
const FEEDING_WORTH_SAYING_MINUTES = 3

function Evening({ workspace, page, day, feeding, minutes }: EveningProps) {
  const isToday = day.on === page.today
  return (
    <li className="py-3">
      <div className="flex flex-wrap items-baseline justify-between gap-x-4">
        <h3>{isToday ? 'Today' : writeLongDay(day.on)}</h3>
        <span className="text-small text-soft">
          {writeMinutes(day.minutes)} of {writeMinutes(minutes)}
          {feeding >= FEEDING_WORTH_SAYING_MINUTES
            ? `, ${writeMinutes(feeding)} of it feeding cups filled before`
            : ''}
        </span>
      </div>
      <span aria-hidden="true" className="mt-1 block h-1.5 bg-wash">
        <span
          className="block h-full bg-ink"
          style={{ width: `${Math.min(100, (100 * day.minutes) / Math.max(1, minutes))}%` }}
        />
      </span>
      <ul className="mt-2">
        {day.moves.map(({ clutch, count, containerKind }) => (
          <li key={`${clutch} ${containerKind}`} className="flex flex-wrap items-baseline gap-x-2">
            <Link
              prefetch={false}
              href={`/w/${workspace}/clutches/${clutch}${isToday && page.mayWrite ? '/bench' : ''}`}
              className="target inline-flex items-center font-semibold"
            >
              {page.room.clutches.find(({ id }) => id === clutch)?.label}
            </Link>
            <LatinName name={page.species[clutch] ?? ''} />
            <span>
              {count} into {intoWords(page, containerKind, count)}
            </span>
          </li>
        ))}
      </ul>
    </li>
  )
}

function intoWords({ kinds }: SeparationPlanPage, id: string, count: number): string {
  const name = kinds.find((kind) => kind.id === id)?.name ?? 'containers'
  return count === 1 ? name : pluralOf(name)
}
