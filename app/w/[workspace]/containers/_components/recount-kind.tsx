'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormNumber, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateContainerKindAction } from '@/lib/features/container/actions'
import { type UpdateContainerKind, updateContainerKindSchema } from '@/lib/features/container/schema'

export function RecountKind({ workspace, kind }: { workspace: string; kind: UpdateContainerKind }) {
  const done = useDone()
  return (
    <DialogButton label="Recount" kind="quiet" title={`Recount: ${kind.name}`}>
      {({ close }) => (
        <RecordForm
          name={`kind-${kind.id}`}
          schema={updateContainerKindSchema}
          action={updateContainerKindAction}
          workspace={workspace}
          defaultValues={kind}
          onDone={() => {
            close()
            done('Recounted.')
          }}
          submitLabel="Record the count"
        >
          <FormNumber name="stock" label="How many you have" isWhole hint="Whether in use or not." />
          <FormText name="name" label="Name" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
