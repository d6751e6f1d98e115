'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { returnIndividualAction } from '@/lib/features/departure/actions'
import { returnFormSchema } from '@/lib/features/departure/schema'
import type { IndividualPage } from '@/lib/features/individual/loaders'

const LABELS: Record<string, string> = {
  escaped: 'Found again',
  given_away: 'It came back',
  dead: 'Entered by mistake',
}

export function ReturnAnimal({ workspace, page }: { workspace: string; page: IndividualPage }) {
  const done = useDone()
  const { animal, today, kinds, zones } = page
  const label = LABELS[animal.whereabouts] ?? 'It is back'
  return (
    <DialogButton label={label} title={label}>
      {({ close }) => (
        <RecordForm
          name="return"
          schema={returnFormSchema}
          action={returnIndividualAction}
          workspace={workspace}
          defaultValues={{
            individual: animal.id,
            on: today,
            containerKind: kinds[0]?.value,
            zone: animal.stays.at(-1)?.zoneId ?? zones[0]?.value,
          }}
          onDone={() => {
            close()
            done('It is back in the count.')
          }}
          submitLabel="Record it"
        >
          <FormDate name="on" label="On" />
          <FormSelect name="containerKind" label="Container" choices={kinds} />
          <FormSelect name="zone" label="Zone" choices={zones} />
          <FormText name="note" label="Note" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
