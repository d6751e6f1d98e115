'use client'

import { DialogButton } from '@/components/ui/dialog'
import { ActionButton } from '@/components/ui/form/action-button'
import { FormDate, FormNumber, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { writeLongDay } from '@/lib/domain/calendar/wording'
import { writeMinutes } from '@/lib/domain/separation/bench-hours'
import { recordBenchDayAction } from '@/lib/features/separation-plan/actions'
import type { SeparationPlanPage } from '@/lib/features/separation-plan/loaders'
import { recordBenchDaySchema } from '@/lib/features/separation-plan/schema'

type Props = { workspace: string; page: SeparationPlanPage }

/** Closed days, and days with more hands than usual. */
export function UnusualDays({ workspace, page }: Props) {
  const done = useDone()
  const { unusual } = page.hours
  return (
    <div className="mt-3">
      {unusual.length > 0 ? (
        <ul aria-label="Days unlike the usual week" className="divide-y divide-line">
          {unusual.map(({ on, minutes, note }) => (
            <li key={on} className="flex flex-wrap items-center justify-between gap-x-4 text-small">
              <span>
                {writeLongDay(on)}: {minutes === 0 ? 'closed' : writeMinutes(minutes)}
                {note ? `, ${note}` : ''}
              </span>
              {page.mayWrite ? (
                <ActionButton
                  action={recordBenchDayAction}
                  workspace={workspace}
                  input={{ on }}
                  kind="quiet"
                  onDone={() => done('As usual again.')}
                >
                  As usual
                </ActionButton>
              ) : null}
            </li>
          ))}
        </ul>
      ) : null}
      {page.mayWrite ? (
        <DialogButton
          label="Another kind of day"
          kind="quiet"
          className="-ms-4"
          title="A day unlike its weekday"
        >
          {({ close }) => (
            <RecordForm
              name="bench-day"
              schema={recordBenchDaySchema}
              action={recordBenchDayAction}
              workspace={workspace}
              defaultValues={{ on: page.today, minutes: 0 }}
              onDone={() => {
                close()
                done('The plan goes by it.')
              }}
              submitLabel="Record the day"
            >
              <FormDate name="on" label="Day" />
              <FormNumber
                name="minutes"
                label="Minutes for parting"
                unit="min"
                isWhole
                isOptional
                hint="0 for a closed day. Empty: as usual again."
              />
              <FormText name="note" label="Note" isOptional />
            </RecordForm>
          )}
        </DialogButton>
      ) : null}
    </div>
  )
}
