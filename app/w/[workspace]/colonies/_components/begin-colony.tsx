'use client'

import { useRouter } from 'next/navigation'
import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import type { Choice } from '@/components/ui/select'
import { createColonyAction } from '@/lib/features/colony/actions'
import { newColonySchema } from '@/lib/features/colony/schema'

type Props = {
  workspace: string
  today: string
  choices: { species: Choice[]; boxes: Choice[]; zones: Choice[] }
  isOnly: boolean
}

export function BeginColony({ workspace, today, choices, isOnly }: Props) {
  const router = useRouter()
  const onlyOf = (of: Choice[]) => (of.length === 1 ? of[0]?.value : undefined)
  return (
    <DialogButton
      label="Begin a colony"
      kind={isOnly ? 'filled' : 'plain'}
      title="Begin a colony"
      place="sheet"
    >
      {({ close }) => (
        <RecordForm
          name="new-colony"
          schema={newColonySchema}
          action={createColonyAction}
          workspace={workspace}
          defaultValues={{
            on: today,
            species: onlyOf(choices.species),
            containerKind: onlyOf(choices.boxes),
            zone: onlyOf(choices.zones),
          }}
          onDone={({ id }) => {
            close()
            router.push(`/w/${workspace}/colonies/${id}`)
          }}
          submitLabel="Begin it"
        >
          <FormText name="name" label="Name" hint="What stands on the container." />
          <FormSelect
            name="species"
            label="Species"
            choices={choices.species}
            placeholder="Choose the species"
          />
          <FormSelect
            name="containerKind"
            label="Container"
            choices={choices.boxes}
            placeholder="Choose the kind"
          />
          <FormSelect name="zone" label="Stands in" choices={choices.zones} placeholder="Choose the zone" />
          <FormDate name="on" label="Since" />
        </RecordForm>
      )}
    </DialogButton>
  )
}
