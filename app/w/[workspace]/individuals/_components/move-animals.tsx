'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import type { Choice } from '@/components/ui/select'
import { recordMovesAction } from '@/lib/features/housing/actions'
import { moveFormSchema } from '@/lib/features/housing/schema'

type Props = {
  workspace: string
  individuals: string[]
  today: string
  choices: { kinds: Choice[]; zones: Choice[] }
  onDone?: () => void
}

export function MoveAnimals({ workspace, individuals, today, choices, onDone }: Props) {
  const done = useDone()
  const sameContainer = { value: 'same', label: 'The container it is in' }
  const sameZone = { value: 'same', label: 'The zone it stands in' }
  return (
    <DialogButton
      label="Moved"
      title={individuals.length > 1 ? `${individuals.length} animals were moved` : 'Moved to'}
    >
      {({ close }) => (
        <RecordForm
          name="move"
          schema={moveFormSchema}
          action={recordMovesAction}
          workspace={workspace}
          defaultValues={{ individuals, on: today, containerKind: 'same', zone: 'same' }}
          onDone={() => {
            close()
            onDone?.()
            done('The move is recorded.')
          }}
          submitLabel="Record it"
        >
          <FormSelect
            name="containerKind"
            label="Container"
            choices={[sameContainer, ...choices.kinds]}
            hint="Another one frees the one it was in."
          />
          <FormSelect name="zone" label="Zone" choices={[sameZone, ...choices.zones]} />
          <FormDate name="on" label="On" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
