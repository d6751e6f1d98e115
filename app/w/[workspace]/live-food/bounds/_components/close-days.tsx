'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormRadio, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordClosedDayAction } from '@/lib/features/food-room/actions'
import { recordClosedDaySchema } from '@/lib/features/food-room/schema'

const SIDES = [
  { value: 'supplier', label: 'The supplier' },
  { value: 'room', label: 'We' },
]

export function CloseDays({ workspace, today }: { workspace: string; today: string }) {
  const done = useDone()
  return (
    <DialogButton label="Add closed days" kind="plain" title="Closed days">
      {({ close }) => (
        <RecordForm
          name="close-days"
          schema={recordClosedDaySchema}
          action={recordClosedDayAction}
          workspace={workspace}
          defaultValues={{ side: 'supplier', on: today, until: '', isClosed: true, note: '' }}
          onDone={() => {
            close()
            done('Orders and starts keep clear of them.')
          }}
          submitLabel="Keep clear of them"
        >
          <FormRadio name="side" label="Who is closed" choices={SIDES} look="tiles" />
          <FormDate name="on" label="First day" />
          <FormDate name="until" label="Last day" isOptional hint="Empty where it is one day." />
          <FormText name="note" label="Note" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
