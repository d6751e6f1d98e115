'use client'

import { FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { endDayMailAction, recordDayMailAction } from '@/lib/features/day-mail/actions'
import type { DayMailRow } from '@/lib/features/day-mail/data'
import { dayMailEndSchema, dayMailSchema, HOURS } from '@/lib/features/day-mail/schema'
import { sayHour } from './say-hour'

type Props = { workspace: string; dayMail: DayMailRow }

export function DayMailPart({ workspace, dayMail }: Props) {
  const done = useDone()
  const { hour, isOn, version } = dayMail
  return (
    <div className="mt-4 space-y-5">
      <RecordForm
        key={`set-${version}`}
        name="day-mail"
        schema={dayMailSchema}
        action={recordDayMailAction}
        workspace={workspace}
        defaultValues={{ hour: String(hour), version }}
        onDone={() => done('It comes every day at that hour. Where that has passed today, from tomorrow on.')}
        submitLabel={isOn ? 'Change the hour' : 'Send it to me'}
        submitKind={isOn ? 'plain' : 'filled'}
      >
        <FormSelect
          name="hour"
          label="At"
          choices={HOURS.map((each) => ({ value: String(each), label: sayHour(each) }))}
        />
      </RecordForm>
      {isOn ? (
        <RecordForm
          key={`end-${version}`}
          name="day-mail-end"
          schema={dayMailEndSchema}
          action={endDayMailAction}
          workspace={workspace}
          defaultValues={{ version }}
          onDone={() => done('No more of it.')}
          submitLabel="No more mails"
          submitKind="plain"
        >
          {null}
        </RecordForm>
      ) : null}
    </div>
  )
}
