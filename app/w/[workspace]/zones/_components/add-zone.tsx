'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { FormTemperature } from '@/components/zone/form-temperature'
import type { TemperatureUnit } from '@/lib/domain/zone/temperature-unit'
import { createZoneAction } from '@/lib/features/zone/actions'
import { createZoneSchema } from '@/lib/features/zone/schema'

export function AddZone({ workspace, unit }: { workspace: string; unit: TemperatureUnit }) {
  const done = useDone()
  return (
    <DialogButton label="Add a zone" kind="filled" title="Add a zone">
      {({ close }) => (
        <RecordForm
          name="add-zone"
          schema={createZoneSchema}
          action={createZoneAction}
          workspace={workspace}
          onDone={() => {
            close()
            done('The zone is there.')
          }}
          submitLabel="Add it"
        >
          <FormText name="name" label="Name" hint="As people in the room call it: warm shelf, side room." />
          <FormTemperature
            name="setTemperatureC"
            label="Temperature"
            unit={unit}
            hint="What it is set to by day."
          />
          <FormTemperature
            name="nightTemperatureC"
            label="Temperature at night"
            unit={unit}
            isOptional
            hint="Only where it is another one."
          />
        </RecordForm>
      )}
    </DialogButton>
  )
}
