'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormRadio, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordClaimEndAction } from '@/lib/features/arrival/actions'
import { claimEndFormSchema } from '@/lib/features/arrival/schema'
import type { OrderPage } from '@/lib/features/order/loaders'

const ENDS = [
  { value: 'replacement', label: 'Replaced' },
  { value: 'refund', label: 'Paid back' },
  { value: 'nothing', label: 'Neither' },
]

export function SettleClaim({ workspace, page }: { workspace: string; page: Pick<OrderPage, 'order'> }) {
  const done = useDone()
  const { order } = page
  return (
    <DialogButton label="What came of it" kind="plain" title="What came of the loss">
      {({ close }) => (
        <RecordForm
          name={`claim-${order.id}`}
          schema={claimEndFormSchema}
          action={recordClaimEndAction}
          workspace={workspace}
          defaultValues={{ order: order.id, version: order.version, end: 'replacement', note: '' }}
          onDone={() => {
            close()
            done('Settled.')
          }}
          submitLabel="Settle it"
        >
          <FormRadio name="end" label="It was" choices={ENDS} look="tiles" />
          <FormTextArea
            name="note"
            label="Note"
            isOptional
            hint="What the law asks of a seller holds all the same."
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}
