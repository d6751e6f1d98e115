'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormSelect, FormText } from '@/components/ui/form/form-field'
import { FormWeekdays, tickWeekdays } from '@/components/ui/form/form-weekdays'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { createMouthAction } from '@/lib/features/food-room/actions'
import { createMouthSchema } from '@/lib/features/food-room/schema'

type Props = { workspace: string; lines: { value: string; label: string }[] }

export function AddMouth({ workspace, lines }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Add a mouth" kind="plain" title="Somebody else who eats">
      {({ close }) => (
        <RecordForm
          name="add-mouth"
          schema={createMouthSchema}
          action={createMouthAction}
          workspace={workspace}
          defaultValues={{ line: lines[0]?.value, weekdays: tickWeekdays([]), from: '', until: '' }}
          onDone={() => {
            close()
            done('They are counted from now on.')
          }}
          submitLabel="Count them"
        >
          <FormText name="name" label="Who" hint="The tree frogs, Friday’s boxes." />
          <FormSelect name="line" label="Line" choices={lines} />
          <FormNumber name="itemsEachTime" label="How many each time" isWhole />
          <FormWeekdays name="weekdays" label="On" />
          <FormDate name="from" label="From" isOptional />
          <FormDate name="until" label="Until" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
