'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordClosedForSendingAction } from '@/lib/features/dispatch/actions'
import { closedForSendingSchema } from '@/lib/features/dispatch/schema'

type Props = { workspace: string; today: string; countries: { value: string; label: string }[] }

export function CloseForSending({ workspace, today, countries }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Add closed days" kind="plain" title="Closed days">
      {({ close }) => (
        <RecordForm
          name="close-sending"
          schema={closedForSendingSchema}
          action={recordClosedForSendingAction}
          workspace={workspace}
          defaultValues={{ country: '', on: today, until: '', isClosed: true, note: '' }}
          onDone={() => {
            close()
            done('Days keep clear of them.')
          }}
          submitLabel="Keep clear of them"
        >
          <FormSelect
            name="country"
            label="Country"
            isOptional
            placeholder="everywhere: the carrier has them"
            choices={countries}
          />
          <FormDate name="on" label="First day" />
          <FormDate name="until" label="Last day" isOptional hint="Empty where it is one day." />
          <FormText name="note" label="Note" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
