'use client'

import { type ComponentProps, useCallback, useState } from 'react'
import { useController } from 'react-hook-form'
import { readFigure } from '@/components/ui/form/form-input'
import { useFieldSpeech } from '@/components/ui/form/form-labels'
import { NumberField } from '@/components/ui/number-field'
import {
  readTemperature,
  type TemperatureUnit,
  temperatureFigure,
  UNIT_SIGN,
} from '@/lib/domain/zone/temperature-unit'

type Props = Pick<ComponentProps<typeof NumberField>, 'hint' | 'isOptional'> & {
  name: string
  label: string
  unit: TemperatureUnit
}

/** A temperature typed in the unit of the workspace; what the form holds and sends is in °C. */
export function FormTemperature({ name, unit, ...words }: Props) {
  const { field, fieldState } = useController({ name })
  const [typed, setTyped] = useState<{ text: string; value: unknown }>()
  const say = useCallback((value: unknown) => `${sayFigure(value, unit)} ${UNIT_SIGN[unit]}`, [unit])
  useFieldSpeech(name, words.label, say)
  function type(text: string) {
    const figure = readFigure(text)
    const value = typeof figure === 'number' ? readTemperature(figure, unit) : figure
    setTyped({ text, value })
    field.onChange(value)
  }
  const isOwn = typed !== undefined && Object.is(typed.value, field.value)
  return (
    <NumberField
      {...words}
      ref={field.ref}
      name={name}
      unit={UNIT_SIGN[unit]}
      value={isOwn ? typed.text : sayFigure(field.value, unit)}
      onChange={(event) => type(event.target.value)}
      onBlur={field.onBlur}
      error={fieldState.error?.message}
    />
  )
}

function sayFigure(value: unknown, unit: TemperatureUnit): string {
  return typeof value === 'number' ? String(temperatureFigure(value, unit)) : String(value ?? '')
}
