'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordFeedingsAction } from '@/lib/features/feeding/actions'
import { feedingFormSchema } from '@/lib/features/feeding/schema'

type Props = { workspace: string; individuals: string[]; today: string; onDone?: () => void }

const ATE = [
  { value: 'ate', label: 'Ate' },
  { value: 'refused', label: 'Refused' },
]

export function RecordFeeding({ workspace, individuals, today, onDone }: Props) {
  const done = useDone()
  return (
    <DialogButton
      label="Fed"
      title={individuals.length > 1 ? `${individuals.length} animals were fed` : 'Fed'}
    >
      {({ close }) => (
        <RecordForm
          name="feeding"
          schema={feedingFormSchema}
          action={recordFeedingsAction}
          workspace={workspace}
          defaultValues={{ individuals, on: today, result: 'ate' }}
          onDone={() => {
            close()
            onDone?.()
            done('The feeding is recorded.')
          }}
          submitLabel="Record it"
        >
          <FormSelect name="result" label="What happened" choices={ATE} />
          <FormDate name="on" label="On" />
          <FormText name="prey" label="Prey" isOptional hint="hydei, house fly, small cricket …" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
