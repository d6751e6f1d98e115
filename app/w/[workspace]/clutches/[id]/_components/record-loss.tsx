'use client'

import { useWatch } from 'react-hook-form'
import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormNumber, FormRadio, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { LOSS_CAUSE_WORDS, LOSS_CAUSES } from '@/lib/domain/head-count/loss-cause'
import { recordLossAction } from '@/lib/features/clutch/actions'
import { newLossFormSchema } from '@/lib/features/clutch/schema'
import type { ClutchActionProps } from './clutch-actions'

const WHERE_TO = [
  { value: 'dead', label: 'Dead' },
  { value: 'escaped', label: 'Escaped' },
  { value: 'given_away', label: 'Given away' },
]
const CAUSES = LOSS_CAUSES.map((value) => ({ value, label: LOSS_CAUSE_WORDS[value] }))

export function RecordLoss({ workspace, today, clutch }: ClutchActionProps) {
  const done = useDone()
  return (
    <DialogButton label="Losses" title={`Losses of ${clutch.label}`} place="sheet">
      {({ close }) => (
        <RecordForm
          name={`loss-${clutch.id}`}
          schema={newLossFormSchema}
          action={recordLossAction}
          workspace={workspace}
          defaultValues={{ clutch: clutch.id, on: today, to: 'dead', cause: 'unknown' }}
          onDone={() => {
            close()
            done('Recorded.')
          }}
          submitLabel="Record it"
        >
          <FormRadio name="to" label="What became of them" choices={WHERE_TO} look="tiles" />
          <FormNumber name="count" label="How many" isWhole hint={`${clutch.together} are together.`} />
          <Cause />
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}

function Cause() {
  const to: unknown = useWatch({ name: 'to' })
  return to === 'dead' ? <FormSelect name="cause" label="Cause" choices={CAUSES} /> : null
}
