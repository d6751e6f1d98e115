'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate, FormSelect, FormText, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateCultureAction } from '@/lib/features/culture/actions'
import { updateCultureSchema } from '@/lib/features/culture/schema'

type Jar = { id: string; label: string; version: number; zoneId: string; shelf: string; notes: string }
type Props = { workspace: string; jar: Jar; zones: { value: string; label: string }[]; today: string }

export function MoveJar({ workspace, jar, zones, today }: Props) {
  const done = useDone()
  const { id, label, version, zoneId, shelf, notes } = jar
  return (
    <DialogButton label="Place and note" kind="plain" title={`${label}: place and note`}>
      {({ close }) => (
        <RecordForm
          name={`move-${id}`}
          schema={updateCultureSchema}
          action={updateCultureAction}
          workspace={workspace}
          defaultValues={{ culture: id, version, zone: zoneId, movedOn: today, shelf, notes }}
          onDone={() => {
            close()
            done(`${label}: changed.`)
          }}
          submitLabel="Keep it so"
        >
          <FormSelect name="zone" label="Zone" choices={zones} />
          <FormDate
            name="movedOn"
            label="There since"
            hint="Counts where you choose another zone. Cooler means later and longer; the day it was started means it never stood elsewhere."
          />
          <FormText name="shelf" label="Board" isOptional />
          <FormTextArea name="notes" label="Note" isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
