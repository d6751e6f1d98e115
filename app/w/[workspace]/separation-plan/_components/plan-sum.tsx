import { StateMark } from '@/components/ui/state-mark'
import type { SeparationPlan } from '@/lib/domain/separation/plan'
import { sayAnimals } from '@/lib/domain/separation/plan-words'
import type { SettledState } from './use-settled-plan'

type Props = { plan: SeparationPlan; state: SettledState }

/** What the whole plan comes to, and whether it is the last word. */
export function PlanSum({ plan, state }: Props) {
  const { expectedLosses, expectedLossesUntouched, missed } = plan
  const isTight = missed.length > 0
  return (
    <section aria-live="polite">
      <p className="text-lead">
        <strong>Expected to be lost: {sayAnimals(expectedLosses)}.</strong>{' '}
        <span className="text-soft">If nobody is parted: {sayAnimals(expectedLossesUntouched)}.</span>
      </p>
      <p className="mt-1 flex flex-wrap items-center gap-x-4 gap-y-1">
        <StateMark
          state={isTight ? 'late' : 'fine'}
          word={isTight ? 'not everyone can be apart in time' : 'everyone can be apart in time'}
        />
        <span className="text-small text-soft">{wordOf(plan, state)}</span>
      </p>
    </section>
  )
}

function wordOf(plan: SeparationPlan, state: SettledState): string {
  if (state === 'quick') return 'Quick plan; the best one is being worked out.'
  if (state === 'failed') return 'Quick plan: the best one could not be asked for just now.'
  return plan.status === 'timed-out' ? 'The best plan found in time.' : 'The best plan.'
}
