'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormRadio } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { recordSexingAction } from '@/lib/features/individual/actions'
import { sexingFormSchema } from '@/lib/features/individual/schema'

const SEXES = [
  { value: 'female', label: '♀ female' },
  { value: 'male', label: '♂ male' },
  { value: 'unsexed', label: '? unsexed' },
]

type Props = { workspace: string; animal: { id: string; version: number; sex: string } }

export function SexAnimal({ workspace, animal }: Props) {
  const done = useDone()
  const { id: individual, version, sex } = animal
  return (
    <DialogButton label="Sexed" title="Sex">
      {({ close }) => (
        <RecordForm
          name="sexing"
          schema={sexingFormSchema}
          action={recordSexingAction}
          workspace={workspace}
          defaultValues={{ individual, version, sex }}
          onDone={() => {
            close()
            done('The sex is recorded.')
          }}
          submitLabel="Record it"
        >
          <FormRadio
            name="sex"
            label="What you saw"
            choices={SEXES}
            look="tiles"
            hint="Belly segments: eight in a male, six in a female; young nymphs all show eight. How sure it can be at this stage is noted for you."
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}
