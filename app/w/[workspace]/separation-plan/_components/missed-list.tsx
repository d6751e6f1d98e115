import Link from 'next/link'
import { Notice } from '@/components/ui/notice'
import { StateMark } from '@/components/ui/state-mark'
import { writeDay } from '@/lib/domain/calendar/wording'
import type { SeparationPlan } from '@/lib/domain/separation/plan'
import { sayAnimals } from '@/lib/domain/separation/plan-words'
import type { SeparationPlanPage } from '@/lib/features/separation-plan/loaders'

type Props = { workspace: string; page: SeparationPlanPage; plan: SeparationPlan }

/** Who stays together past the day, by name, and what that is expected to cost. */
export function MissedList({ workspace, page, plan }: Props) {
  const missed = [...plan.missed].sort((one, other) => other.cost - one.cost)
  const unhoused = page.room.clutches.filter(
    ({ together, containerKinds }) => together > 1 && containerKinds.length === 0,
  )
  return (
    <>
      {missed.length > 0 ? (
        <section>
          <h2>What cannot be met</h2>
          <ul className="mt-2 divide-y divide-line border-line border-y">
            {missed.map(({ clutch, label, apartBy, count, cost }) => (
              <li key={clutch} className="flex flex-wrap items-center gap-x-4 py-2">
                <Link
                  prefetch={false}
                  href={`/w/${workspace}/clutches/${clutch}`}
                  className="target inline-flex items-center font-semibold"
                >
                  {label}
                </Link>
                <StateMark
                  state="late"
                  word={`${count} still together after ${writeDay(apartBy, page.today)}`}
                />
                <span className="text-small">costs {sayAnimals(cost)}</span>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      {unhoused.map(({ id, label }) => (
        <Notice
          key={id}
          state="due"
          what={`No kind of container is large enough for ${label}.`}
          next={<Link href={`/w/${workspace}/containers`}>Add a kind of container</Link>}
        />
      ))}
      {page.leftOut.length > 0 ? (
        <p className="text-small text-soft">
          Not planned, since nothing can be forecast for them:{' '}
          {page.leftOut.map(({ label }) => label).join(', ')}. Give their zone a temperature, or their species
          its instars.
        </p>
      ) : null}
    </>
  )
}
