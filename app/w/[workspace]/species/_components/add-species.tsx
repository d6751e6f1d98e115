'use client'

import { useRouter } from 'next/navigation'
import { useWatch } from 'react-hook-form'
import { DialogButton } from '@/components/ui/dialog'
import { FormRadio, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { createSpeciesAction } from '@/lib/features/species/actions'
import { createSpeciesSchema } from '@/lib/features/species/schema'

type Props = { workspace: string; models: { value: string; label: string }[] }

const KINDS = [
  { value: 'mantis', label: 'A mantis' },
  {
    value: 'other',
    label: 'Another invertebrate',
    hint: 'Stocked, fed and sold; no forecast and no separation.',
  },
]

export function AddSpecies({ workspace, models }: Props) {
  const router = useRouter()
  return (
    <DialogButton label="Add a species" kind="filled" title="Add a species">
      <RecordForm
        name="add-species"
        schema={createSpeciesSchema}
        action={createSpeciesAction}
        workspace={workspace}
        defaultValues={{ kind: 'mantis' }}
        onDone={({ slug }) => router.push(`/w/${workspace}/species/${slug}`)}
        submitLabel="Add it"
      >
        <FormText name="scientificName" label="Scientific name" />
        <FormText name="commonName" label="Common name" isOptional />
        <FormRadio name="kind" label="Kind" choices={KINDS} />
        <Model models={models} />
      </RecordForm>
    </DialogButton>
  )
}

function Model({ models }: { models: Props['models'] }) {
  const kind = useWatch({ name: 'kind' })
  if (kind !== 'mantis') return null
  return (
    <FormSelect
      name="likeId"
      label="Most like"
      choices={models}
      placeholder="Choose"
      hint="Its figures are taken over as your own, to be changed one by one."
    />
  )
}
