'use client'

import { Button } from '@/components/ui/button'
import { ActionButton } from '@/components/ui/form/action-button'
import { useDone } from '@/components/ui/form/use-done'
import { SliderField } from '@/components/ui/slider-field'
import { writeMinutes } from '@/lib/domain/separation/bench-hours'
import { updateBenchHoursAction } from '@/lib/features/separation-plan/actions'
import type { SeparationPlanPage } from '@/lib/features/separation-plan/loaders'
import type { Sliders } from '@/lib/features/separation-plan/schema'
import { UnusualDays } from './unusual-days'

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday']
const LONGEST_EVENING = 300
const STEP_MINUTES = 15
/** A slider for cups ends beyond what is there, so that a purchase can be tried. */
const CUPS_BEYOND = 100

type Props = {
  workspace: string
  page: SeparationPlanPage
  sliders: Sliders
  onChange: (sliders: Sliders) => void
}

export function PlanSliders({ workspace, page, sliders, onChange }: Props) {
  const { minutesByWeekday, free } = sliders
  const week = minutesByWeekday.reduce((sum, minutes) => sum + minutes, 0)
  return (
    <>
      <section>
        <h2>Hours for parting</h2>
        <p className="mb-2 text-small text-soft">{writeMinutes(week)} a week, besides the usual feeding.</p>
        {WEEKDAYS.map((label, place) => (
          <SliderField
            key={label}
            label={label}
            value={minutesByWeekday[place] ?? 0}
            max={LONGEST_EVENING}
            step={STEP_MINUTES}
            said={writeMinutes(minutesByWeekday[place] ?? 0)}
            onChange={(minutes) =>
              onChange({ ...sliders, minutesByWeekday: minutesByWeekday.with(place, minutes) })
            }
          />
        ))}
        <SaveHours {...{ workspace, page, sliders, onChange }} />
        <UnusualDays workspace={workspace} page={page} />
      </section>
      <section>
        <h2>Containers free</h2>
        <p className="mb-2 text-small text-soft">
          To try what more of them would do. What is really there is counted under Containers.
        </p>
        {page.kinds.map((kind) => (
          <SliderField
            key={kind.id}
            label={kind.name}
            value={free[kind.id] ?? 0}
            max={Math.max(0, kind.free) + CUPS_BEYOND}
            step={1}
            said={String(free[kind.id] ?? 0)}
            onChange={(count) => onChange({ ...sliders, free: { ...free, [kind.id]: count } })}
          />
        ))}
        {page.kinds.length === 0 ? (
          <p className="text-soft">No kind of container for one animal yet.</p>
        ) : null}
      </section>
    </>
  )
}

function SaveHours({ workspace, page, sliders, onChange }: Props) {
  const done = useDone()
  const { minutesByWeekday, version } = page.hours
  const isMoved = sliders.minutesByWeekday.some((minutes, place) => minutes !== minutesByWeekday[place])
  if (!isMoved) return null
  return (
    <div className="mt-3 flex flex-wrap gap-2">
      {page.mayWrite ? (
        <ActionButton
          action={updateBenchHoursAction}
          workspace={workspace}
          input={{ version, minutesByWeekday: sliders.minutesByWeekday }}
          kind="filled"
          onDone={() => done('These are your hours from now on.')}
        >
          Save these hours
        </ActionButton>
      ) : null}
      <Button kind="quiet" onClick={() => onChange({ ...sliders, minutesByWeekday: [...minutesByWeekday] })}>
        Back to the saved ones
      </Button>
    </div>
  )
}
