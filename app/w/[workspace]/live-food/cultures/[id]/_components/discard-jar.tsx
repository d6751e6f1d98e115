'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormRadio } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordDiscardAction } from '@/lib/features/culture/actions'
import { discardFormSchema } from '@/lib/features/culture/schema'

type Props = { workspace: string; culture: string; label: string; today: string; kind?: 'plain' | 'quiet' }

const WAYS = [
  { value: 'discarded', label: 'Discarded' },
  { value: 'sold', label: 'Sold' },
]

export function DiscardJar({ workspace, culture, label, today, kind = 'plain' }: Props) {
  const done = useDone()
  return (
    <DialogButton
      label={
        <>
          Off the shelf<span className="sr-only">: {label}</span>
        </>
      }
      kind={kind}
      title={`${label} leaves the shelf`}
    >
      {({ close }) => (
        <RecordForm
          name={`discard-${culture}`}
          schema={discardFormSchema}
          action={recordDiscardAction}
          workspace={workspace}
          defaultValues={{ culture, on: today, as: 'discarded' }}
          onDone={() => {
            close()
            done(`${label} is off the shelf.`)
          }}
          submitLabel="Record it"
        >
          <FormRadio name="as" label="How" choices={WAYS} look="tiles" />
          <FormDate name="on" label="On" />
          <p className="text-small text-soft">
            Freeze it for 48 hours at −18 °C before it goes into the bin; open mould outdoors only.
          </p>
        </RecordForm>
      )}
    </DialogButton>
  )
}
