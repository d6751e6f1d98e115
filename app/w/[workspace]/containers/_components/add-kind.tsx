'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormCheckbox, FormNumber, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { createContainerKindAction } from '@/lib/features/container/actions'
import { createContainerKindSchema } from '@/lib/features/container/schema'

export function AddKind({ workspace }: { workspace: string }) {
  const done = useDone()
  return (
    <DialogButton label="Add a kind" kind="filled" title="Add a kind of container">
      {({ close }) => (
        <RecordForm
          name="add-kind"
          schema={createContainerKindSchema}
          action={createContainerKindAction}
          workspace={workspace}
          defaultValues={{ single: true }}
          onDone={() => {
            close()
            done('The kind is there.')
          }}
          submitLabel="Add it"
        >
          <FormText name="name" label="Name" hint="As you call it: 120 ml cup, large cage." />
          <FormNumber name="volumeMl" label="Volume" unit="ml" isWhole />
          <FormNumber
            name="innerHeightMm"
            label="Height inside"
            unit="mm"
            isWhole
            hint="An animal needs it to hang free when it moults."
          />
          <FormNumber name="innerWidthMm" label="Width inside" unit="mm" isWhole />
          <FormNumber name="stock" label="How many you have" isWhole hint="Whether in use or not." />
          <FormCheckbox name="single" label="For one animal only" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
