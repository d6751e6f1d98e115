'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { createPreyOrderAction } from '@/lib/features/prey/actions'
import { newPreyOrderSchema } from '@/lib/features/prey/schema'

type Props = {
  workspace: string
  line: string
  name: string
  today: string
  packs?: number
  label?: string
  kind?: 'filled' | 'plain'
}

export function NewOrder({ workspace, line, name, today, packs, label = 'Ordered', kind = 'filled' }: Props) {
  const done = useDone()
  return (
    <DialogButton label={label} kind={kind} title={`${name}: packs ordered`}>
      {({ close }) => (
        <RecordForm
          name={`order-${line}`}
          schema={newPreyOrderSchema}
          action={createPreyOrderAction}
          workspace={workspace}
          defaultValues={{ line, packs: packs ?? 1, orderedOn: today }}
          onDone={() => {
            close()
            done('The order is recorded.')
          }}
          submitLabel="Record the order"
        >
          <FormNumber name="packs" label="Packs" isWhole />
          <FormDate name="orderedOn" label="Ordered on" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
