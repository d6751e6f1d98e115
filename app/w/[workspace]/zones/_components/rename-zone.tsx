'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormNumber, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { updateZoneAction } from '@/lib/features/zone/actions'
import { type UpdateZone, updateZoneSchema } from '@/lib/features/zone/schema'

export function RenameZone({ workspace, zone }: { workspace: string; zone: UpdateZone }) {
  const done = useDone()
  return (
    <DialogButton label="Rename" kind="quiet" title={`Rename ${zone.name}`}>
      {({ close }) => (
        <RecordForm
          name={`zone-${zone.id}`}
          schema={updateZoneSchema}
          action={updateZoneAction}
          workspace={workspace}
          defaultValues={zone}
          onDone={() => {
            close()
            done('Renamed.')
          }}
          submitLabel="Rename it"
        >
          <FormText name="name" label="Name" />
          <FormNumber
            name="walkingOrder"
            label="Place in the walk"
            isWhole
            hint="Zones are listed in this order, the lowest first."
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}
