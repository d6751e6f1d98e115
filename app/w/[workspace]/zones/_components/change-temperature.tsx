'use client'

import { DialogButton } from '@/components/ui/dialog'
import { FormDate } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { FormTemperature } from '@/components/zone/form-temperature'
import type { TemperatureUnit } from '@/lib/domain/zone/temperature-unit'
import { recordSetPointAction } from '@/lib/features/zone/actions'
import type { SetPoint } from '@/lib/features/zone/data'
import { recordSetPointSchema } from '@/lib/features/zone/schema'

type Props = {
  workspace: string
  zoneId: string
  name: string
  today: string
  inForce: SetPoint | undefined
  unit: TemperatureUnit
}

export function ChangeTemperature({ workspace, zoneId, name, today, inForce, unit }: Props) {
  const done = useDone()
  return (
    <DialogButton label="Set temperature" kind="quiet" title={`Set the temperature of ${name}`}>
      {({ close }) => (
        <RecordForm
          name={`set-point-${zoneId}`}
          schema={recordSetPointSchema}
          action={recordSetPointAction}
          workspace={workspace}
          defaultValues={{ zoneId, from: today, dayC: inForce?.dayC, nightC: inForce?.nightC ?? undefined }}
          onDone={() => {
            close()
            done('The forecasts follow the new temperature.')
          }}
          submitLabel="Set it"
        >
          <FormDate name="from" label="From" hint="A day that has passed, today, or one that is planned." />
          <FormTemperature name="dayC" label="Temperature" unit={unit} />
          <FormTemperature name="nightC" label="Temperature at night" unit={unit} isOptional />
        </RecordForm>
      )}
    </DialogButton>
  )
}
