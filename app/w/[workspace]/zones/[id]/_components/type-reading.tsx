'use client'

import { useState } from 'react'
import { get, useFormContext } from 'react-hook-form'
import { FormCheckbox, FormDate, FormNumber, FormRadio, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { type TemperatureUnit, UNIT_SIGN } from '@/lib/domain/zone/temperature-unit'
import { recordTypedReadingAction } from '@/lib/features/reading/actions'
import { typedReadingSchema } from '@/lib/features/reading/schema'

export const UNIT_CHOICES = [
  { value: 'celsius', label: UNIT_SIGN.celsius },
  { value: 'fahrenheit', label: UNIT_SIGN.fahrenheit },
]

type Props = { workspace: string; zoneId: string; today: string; unit: TemperatureUnit }

/** One look at a thermometer. */
export function TypeReading({ workspace, zoneId, today, unit }: Props) {
  const done = useDone()
  const [defaults] = useState({
    zoneId,
    on: today,
    time: '',
    temperature: '',
    humidityPct: '',
    unit,
    isSure: false,
  })
  return (
    <RecordForm
      name={`reading-${zoneId}`}
      schema={typedReadingSchema}
      action={recordTypedReadingAction}
      workspace={workspace}
      defaultValues={defaults}
      nextValues={(_value, typed) => ({ ...defaults, on: typed.on, unit: typed.unit })}
      onDone={() => done('Written down. The forecasts count it.')}
      submitLabel="Write it down"
    >
      <div className="grid grid-cols-2 gap-4">
        <FormDate name="on" label="Day" />
        <FormText name="time" label="Time" hint="As 18:30." inputMode="numeric" />
      </div>
      <div className="grid grid-cols-2 items-start gap-4">
        <FormNumber name="temperature" label="Temperature" />
        <FormRadio name="unit" label="Unit" choices={UNIT_CHOICES} look="tiles" />
      </div>
      <SureOfIt />
      <FormNumber name="humidityPct" label="Humidity" unit="%" isOptional />
    </RecordForm>
  )
}

/** Shown once the unit has been asked about: a zone may really have been that warm. */
function SureOfIt() {
  const { formState, watch } = useFormContext()
  const message: unknown = get(formState.errors, 'temperature.message')
  const isAsked = typeof message === 'string' && message.includes('Read in')
  if (!isAsked && watch('isSure') !== true) return null
  return <FormCheckbox name="isSure" label="It stands as it is typed" />
}
