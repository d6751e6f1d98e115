'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormRadio, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { LOSS_CAUSE_WORDS, LOSS_CAUSES } from '@/lib/domain/head-count/loss-cause'
import { recordLeavingAction } from '@/lib/features/departure/actions'
import { leavingFormSchema } from '@/lib/features/departure/schema'

type Props = { workspace: string; individuals: string[]; today: string; onDone?: () => void }

const WAYS = [
  { value: 'dead', label: 'Died' },
  { value: 'escaped', label: 'Escaped' },
  { value: 'given_away', label: 'Given away' },
]
const CAUSES = LOSS_CAUSES.map((value) => ({ value, label: LOSS_CAUSE_WORDS[value] }))

export function RecordLeaving({ workspace, individuals, today, onDone }: Props) {
  const done = useDone()
  const many = individuals.length > 1
  return (
    <DialogButton
      label="Gone"
      kind="quiet"
      title={many ? `${individuals.length} animals are gone` : 'This animal is gone'}
    >
      {({ close }) => (
        <RecordForm
          name="leaving"
          schema={leavingFormSchema}
          action={recordLeavingAction}
          workspace={workspace}
          defaultValues={{ individuals, on: today, to: 'dead', cause: 'unknown' }}
          onDone={() => {
            close()
            onDone?.()
            done('It is recorded, and the container is free.')
          }}
          submitLabel="Record it"
        >
          <FormRadio name="to" label="What happened" choices={WAYS} look="tiles" />
          <FormSelect
            name="cause"
            label="Cause"
            choices={CAUSES}
            hint="Of a death. “Not known” is an honest answer."
          />
          <FormDate name="on" label="On" />
          <FormText name="note" label="Note" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
