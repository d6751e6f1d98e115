'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { createContainerOrderAction } from '@/lib/features/container/actions'
import { createContainerOrderSchema } from '@/lib/features/container/schema'

type Props = {
  workspace: string
  kindId: string
  name: string
  today: string
  /** What the form begins with: as many as are wanted, by the day they are. */
  suggested?: { count: number; on: string }
}

export function OrderKind({ workspace, kindId, name, today, suggested }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Ordered" kind="quiet" title={`Ordered: ${name}`}>
      {({ close }) => (
        <RecordForm
          name={`order-${kindId}`}
          schema={createContainerOrderSchema}
          action={createContainerOrderAction}
          workspace={workspace}
          defaultValues={{ kindId, on: today, ...suggested }}
          onDone={() => {
            close()
            done('They are expected.')
          }}
          submitLabel="Record the order"
        >
          <FormNumber name="count" label="How many" isWhole />
          <FormDate name="on" label="Expected on" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
