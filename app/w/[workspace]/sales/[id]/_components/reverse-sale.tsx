'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { reverseSaleAction } from '@/lib/features/sale/actions'
import type { ReceiptPage } from '@/lib/features/sale/loaders'
import { reversalFormSchema } from '@/lib/features/sale/schema'

export function ReverseSale({ workspace, page }: { workspace: string; page: ReceiptPage }) {
  const done = useDone()
  const { sale, kinds, zones, today } = page
  const many = sale.lines.length > 1
  return (
    <DialogButton label="Take it back" kind="quiet" title="Take this sale back">
      {({ close }) => (
        <RecordForm
          name="reversal"
          schema={reversalFormSchema}
          action={reverseSaleAction}
          workspace={workspace}
          defaultValues={{ sale: sale.id, on: today, containerKind: kinds[0]?.value, zone: zones[0]?.value }}
          onDone={() => {
            close()
            done(many ? 'The animals are here again.' : 'The animal is here again.')
          }}
          submitLabel="Take it back"
        >
          <p className="text-small text-soft">
            The receipt keeps its number and is marked. {many ? 'Every animal on it' : 'The animal'} is here
            again, in a container.
          </p>
          <FormText name="reason" label="Why" />
          <FormDate name="on" label="On" />
          <FormSelect name="containerKind" label="Container" choices={kinds} />
          <FormSelect name="zone" label="Zone" choices={zones} />
        </RecordForm>
      )}
    </DialogButton>
  )
}
