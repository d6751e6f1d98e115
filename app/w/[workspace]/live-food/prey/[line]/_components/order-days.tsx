'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormTextArea } from '@/components/ui/form/form-field'
import { FormWeekdays, tickWeekdays } from '@/components/ui/form/form-weekdays'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateOrderDaysAction } from '@/lib/features/prey/actions'
import { updateOrderDaysSchema } from '@/lib/features/prey/schema'

type Props = { workspace: string; line: string; version: number; weekdays: readonly number[] }

export function OrderDays({ workspace, line, version, weekdays }: Props) {
  const done = useDone()
  return (
    <DialogButton
      kind="quiet"
      title="Supplier takes orders on"
      label={
        <>
          Change<span className="sr-only"> the days on which the supplier takes orders</span>
        </>
      }
    >
      {({ close }) => (
        <RecordForm
          name={`order-days-${line}`}
          schema={updateOrderDaysSchema}
          action={updateOrderDaysAction}
          workspace={workspace}
          defaultValues={{ line, version, weekdays: tickWeekdays(weekdays), note: '' }}
          onDone={() => {
            close()
            done('Changed. Plans follow it from now on.')
          }}
          submitLabel="Make it ours"
        >
          <FormWeekdays name="weekdays" label="Order days" />
          <FormTextArea name="note" label="Why" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
