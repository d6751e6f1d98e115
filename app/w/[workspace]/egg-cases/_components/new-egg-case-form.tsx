'use client'

import { useRouter } from 'next/navigation'
import { useWatch } from 'react-hook-form'
import { MaybePaper } from '@/components/paper/paper-fields'
import { FormDate, FormRadio, FormSelect, FormText, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import type { Choice } from '@/components/ui/select'
import { createEggCaseAction } from '@/lib/features/egg-case/actions'
import { newEggCaseFormSchema } from '@/lib/features/egg-case/schema'

const KNOWN = [
  { value: 'laid-on', label: 'The day it was laid' },
  { value: 'laid-between', label: 'Two days between which it was laid' },
  { value: 'received', label: 'Only the day it came here' },
]

type Props = {
  workspace: string
  today: string
  species: Choice[]
  zones: Choice[]
  colonies: Choice[]
  /** Where somebody comes from a colony in which it was found. */
  found?: { colony: string; zone: string; species?: string }
}

export function NewEggCaseForm({ workspace, today, species, zones, colonies, found }: Props) {
  const router = useRouter()
  const onlyZone = zones.length === 1 ? zones[0]?.value : undefined
  return (
    <RecordForm
      name="new-egg-case"
      schema={newEggCaseFormSchema}
      action={createEggCaseAction}
      workspace={workspace}
      defaultValues={{ known: 'laid-on', laidOn: today, zone: onlyZone, ...found }}
      onDone={({ id }) => router.push(`/w/${workspace}/egg-cases/${id}`)}
      submitLabel="Record it"
      className="mt-5"
    >
      <FormSelect name="species" label="Species" choices={species} placeholder="Choose the species" />
      <FormRadio name="known" label="What is known of its age" choices={KNOWN} />
      <LayingDays />
      <FormSelect name="zone" label="Where it hangs" choices={zones} placeholder="Choose the zone" />
      <FormText
        name="mother"
        label="Mother"
        hint="What stands on her label, if she lives here."
        isOptional
        autoCapitalize="characters"
      />
      {colonies.length > 0 ? (
        <FormSelect
          name="colony"
          label="Found in a colony"
          hint="Its parents are then among those who lived there."
          choices={colonies}
          placeholder="No"
          isOptional
        />
      ) : null}
      <details>
        <summary className="py-2.5 font-semibold text-small">Where it came from, notes</summary>
        <div className="mt-3 space-y-5">
          <FormText name="supplier" label="Supplier" isOptional />
          <FormText name="lot" label="Lot" isOptional />
          <FormTextArea name="notes" label="Notes" isOptional />
        </div>
      </details>
      <MaybePaper title="A paper that came with it" />
    </RecordForm>
  )
}

/** Only the boxes that belong to what is known. */
function LayingDays() {
  const known: unknown = useWatch({ name: 'known' })
  if (known === 'laid-between')
    return (
      <div className="grid gap-5 desk:grid-cols-2">
        <FormDate name="laidFrom" label="Not before" />
        <FormDate name="laidUntil" label="Not after" />
      </div>
    )
  if (known === 'received')
    return <FormDate name="receivedOn" label="Came here on" hint="It was laid in the weeks before." />
  return (
    <div className="grid gap-5 desk:grid-cols-2">
      <FormDate name="laidOn" label="Laid on" />
      <FormDate name="receivedOn" label="Came here on" hint="If it was bought." isOptional />
    </div>
  )
}
