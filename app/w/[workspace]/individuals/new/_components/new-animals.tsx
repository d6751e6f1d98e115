'use client'

import { useRouter } from 'next/navigation'
import { MaybePaper } from '@/components/paper/paper-fields'
import {
  FormDate,
  FormNumber,
  FormRadio,
  FormSelect,
  FormText,
  FormTextArea,
} from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { showToast } from '@/components/ui/toast'
import { formatCode } from '@/lib/domain/label/code'
import { createIndividualsAction } from '@/lib/features/individual/actions'
import type { NewIndividualPage } from '@/lib/features/individual/loaders'
import { newIndividualFormSchema } from '@/lib/features/individual/schema'

const ORIGINS = [
  { value: 'bought', label: 'Bought' },
  { value: 'wild', label: 'Wild-caught' },
]
const SEXES = [
  { value: 'unsexed', label: '? unsexed' },
  { value: 'female', label: '♀ female' },
  { value: 'male', label: '♂ male' },
]

export function NewAnimals({ workspace, page }: { workspace: string; page: NewIndividualPage }) {
  const router = useRouter()
  function goOn(made: { id: string; label: string }[]) {
    const [first] = made
    showToast({ what: `Labels: ${made.map(({ label }) => formatCode(label)).join(', ')}` })
    router.push(
      made.length === 1 ? `/w/${workspace}/individuals/${first?.id}` : `/w/${workspace}/individuals`,
    )
  }
  return (
    <RecordForm
      name="new-animals"
      schema={newIndividualFormSchema}
      action={createIndividualsAction}
      workspace={workspace}
      defaultValues={{
        on: page.today,
        origin: 'bought',
        sex: 'unsexed',
        count: 1,
        zone: page.zones[0]?.value,
        containerKind: page.kinds[0]?.value,
      }}
      onDone={goOn}
      submitLabel="Add them"
      className="mt-6"
    >
      <FormSelect name="species" label="Species" placeholder="Choose one" choices={page.species} />
      <FormRadio name="origin" label="Came here" choices={ORIGINS} look="tiles" />
      <FormDate name="on" label="On" />
      <FormNumber
        name="count"
        label="How many alike"
        isWhole
        hint="Each gets a label and a container of its own."
      />
      <FormSelect
        name="stage"
        label="Stage"
        placeholder="Choose one"
        choices={page.stages}
        hint={`Here: ${page.conventionNote}. A seller may count otherwise.`}
      />
      <FormDate
        name="lastMoultOn"
        label="Last moult"
        isOptional
        hint="If the seller saw it. Otherwise every day of the instar is taken as likely."
      />
      <FormRadio name="sex" label="Sex" choices={SEXES} look="tiles" />
      <FormText name="supplier" label="From whom" isOptional />
      <FormSelect name="containerKind" label="Container" choices={page.kinds} />
      <FormSelect name="zone" label="Zone" choices={page.zones} />
      <FormTextArea name="notes" label="Notes" isOptional hint="For you. They are never printed." />
      <MaybePaper title="A paper that came with them" />
    </RecordForm>
  )
}
