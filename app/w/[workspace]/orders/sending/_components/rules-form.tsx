'use client'

import { FormNumber, FormText } from '@/components/ui/form/form-field'
import { FormWeekdays, tickWeekdays } from '@/components/ui/form/form-weekdays'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateDispatchRulesAction } from '@/lib/features/dispatch/actions'
import type { DispatchRules } from '@/lib/features/dispatch/data'
import { updateRulesSchema } from '@/lib/features/dispatch/schema'

export function RulesForm({ workspace, rules }: { workspace: string; rules: DispatchRules }) {
  const done = useDone()
  const { weekdays, ...values } = rules
  return (
    <RecordForm
      key={rules.version}
      name="sending"
      schema={updateRulesSchema}
      action={updateDispatchRulesAction}
      workspace={workspace}
      defaultValues={{ ...values, weekdays: tickWeekdays(weekdays) }}
      onDone={() => done('Days are worked out with it from now on.')}
      submitLabel="Keep it"
    >
      <FormWeekdays
        name="weekdays"
        label="Boxes are sent on"
        hint="Early in the week, so that a late one is not in a depot over Sunday."
      />
      <FormNumber name="transitDays" label="Days on the way" isWhole />
      <FormText
        name="area"
        label="Our area, for the air"
        isOptional
        hint="Country and first figures of the post code, such as DE 79."
      />
      <FormNumber name="claimHours" label="Losses are told within" unit="hours" isWhole />
      <FormNumber
        name="keepAddressDays"
        label="Addresses are kept after the arrival for"
        unit="days"
        isWhole
        hint="Then they are forgotten by themselves."
      />
    </RecordForm>
  )
}
