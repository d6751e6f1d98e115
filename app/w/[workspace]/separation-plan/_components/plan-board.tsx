'use client'

import { useDeferredValue, useMemo, useState } from 'react'
import { minutesByDay } from '@/lib/domain/separation/bench-hours'
import { planQuickly } from '@/lib/domain/separation/plan'
import type { SeparationRoom } from '@/lib/domain/separation/plan-room'
import type { SeparationPlanPage } from '@/lib/features/separation-plan/loaders'
import type { Sliders } from '@/lib/features/separation-plan/schema'
import { Helps } from './helps'
import { MissedList } from './missed-list'
import { PlanDays } from './plan-days'
import { PlanSliders } from './plan-sliders'
import { PlanSum } from './plan-sum'
import { useSettledPlan } from './use-settled-plan'

type Props = { workspace: string; page: SeparationPlanPage }

/** The plan beside the hours and containers it is made for: moving one shows at once what it does to the other. */
export function PlanBoard({ workspace, page }: Props) {
  const [sliders, setSliders] = useState<Sliders>(() => recordedSliders(page))
  const moved = useDeferredValue(sliders)
  const room = useMemo(() => roomOf(page, moved), [page, moved])
  const quick = useMemo(() => planQuickly(room), [room])
  const { settled, state } = useSettledPlan(workspace, sliders, page)
  const plan = settled ?? quick
  return (
    <div className="mt-4 grid gap-10 desk:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
      <div className="min-w-0 space-y-8">
        <PlanSum plan={plan} state={state} />
        <PlanDays workspace={workspace} page={page} plan={plan} room={room} />
        <MissedList workspace={workspace} page={page} plan={plan} />
      </div>
      <div className="min-w-0 space-y-8">
        <PlanSliders workspace={workspace} page={page} sliders={sliders} onChange={setSliders} />
        <Helps helps={settled?.helpWords ?? null} state={state} />
        <section className="text-small text-soft">
          <h2 className="mb-1 text-ink">What it reckons with</h2>
          <p>
            {page.labourWords}, 10 min for each clutch taken up, then feeding for every cup filled;{' '}
            {page.lossWords}. The usual feeding is not in these hours.
          </p>
        </section>
      </div>
    </div>
  )
}

export function recordedSliders({ hours, kinds }: SeparationPlanPage): Sliders {
  return {
    minutesByWeekday: [...hours.minutesByWeekday],
    free: Object.fromEntries(kinds.map(({ id, free }) => [id, Math.max(0, free)])),
  }
}

function roomOf({ room, hours }: SeparationPlanPage, { minutesByWeekday, free }: Sliders): SeparationRoom {
  const from = room.days[0]?.on ?? ''
  return {
    ...room,
    days: minutesByDay(minutesByWeekday, { from, days: room.days.length }, hours.unusual),
    containerKinds: room.containerKinds.map((kind) => ({ ...kind, free: free[kind.id] ?? kind.free })),
  }
}
