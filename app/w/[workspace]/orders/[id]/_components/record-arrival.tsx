'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormRadio, FormText, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordArrivalAction } from '@/lib/features/arrival/actions'
import { arrivalFormSchema } from '@/lib/features/arrival/schema'
import type { OrderPage } from '@/lib/features/order/loaders'

const STATES = [
  { value: 'alive', label: 'alive' },
  { value: 'hurt', label: 'hurt' },
  { value: 'dead', label: 'dead' },
]

type Props = { workspace: string; page: Pick<OrderPage, 'order' | 'lines' | 'today'> }

export function RecordArrival({ workspace, page }: Props) {
  const done = useDone()
  const { order, lines, today } = page
  const animals = lines.flatMap(({ chosen }) => chosen)
  return (
    <DialogButton
      label="It has arrived"
      kind="filled"
      title={`How order ${order.number} arrived`}
      place="sheet"
    >
      {({ close }) => (
        <RecordForm
          name={`arrival-${order.id}`}
          schema={arrivalFormSchema}
          action={recordArrivalAction}
          workspace={workspace}
          defaultValues={{
            order: order.id,
            version: order.version,
            on: today,
            at: '12:00',
            reportedOn: today,
            reportedAt: '12:00',
            animals: animals.map(({ id }) => ({ individual: id, as: 'alive' })),
            photographs: 0,
            note: '',
          }}
          onDone={() => {
            close()
            done('Recorded.')
          }}
          submitLabel="Record the arrival"
        >
          <div className="grid grid-cols-2 gap-3">
            <FormDate name="on" label="Arrived on" />
            <FormText name="at" label="at" hint="Such as 09:30." />
            <FormDate name="reportedOn" label="Told us on" />
            <FormText name="reportedAt" label="at" hint="Such as 14:00." />
          </div>
          {animals.map(({ id, code }, index) => (
            <FormRadio key={id} name={`animals.${index}.as`} label={code} choices={STATES} look="tiles" />
          ))}
          <FormNumber name="photographs" label="Photographs received" isWhole />
          <FormTextArea name="note" label="Note" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
