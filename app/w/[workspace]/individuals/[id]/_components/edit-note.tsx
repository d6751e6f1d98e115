'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormRadio, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateIndividualNoteAction } from '@/lib/features/individual/actions'
import { noteFormSchema } from '@/lib/features/individual/schema'

const MATED = [
  { value: 'yes', label: 'Yes' },
  { value: 'no', label: 'No' },
  { value: 'unknown', label: 'Not known' },
]

type Props = {
  workspace: string
  animal: { id: string; version: number; notes: string; mated: boolean | null }
}

export function EditNote({ workspace, animal }: Props) {
  const done = useDone()
  const { id: individual, version, notes } = animal
  const mated = animal.mated === null ? 'unknown' : animal.mated ? 'yes' : 'no'
  return (
    <DialogButton label="Change notes" kind="quiet" title="Notes" className="-ms-4">
      {({ close }) => (
        <RecordForm
          name="note"
          schema={noteFormSchema}
          action={updateIndividualNoteAction}
          workspace={workspace}
          defaultValues={{ individual, version, notes, mated }}
          onDone={() => {
            close()
            done('Changed.')
          }}
          submitLabel="Keep it"
        >
          <FormTextArea name="notes" label="Notes" isOptional hint="For you. They are never printed." />
          <FormRadio name="mated" label="Mated" choices={MATED} look="tiles" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
