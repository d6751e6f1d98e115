'use client'

import { type ComponentProps, useCallback } from 'react'
import { get, useFormContext } from 'react-hook-form'
import { Checkbox } from '../checkbox'
import { DateField } from '../date-field'
import { NumberField } from '../number-field'
import { RadioGroup } from '../radio-group'
import { Select } from '../select'
import { TextArea, TextField } from '../text-field'
import { readFigure } from './form-input'
import { sayPlainly, useFieldSpeech } from './form-labels'

/** A field of a RecordForm: the same words as the plain field, with the name of its value in the schema. */
type Named<Props> = Omit<
  Props,
  'error' | 'name' | 'label' | 'ref' | 'value' | 'defaultValue' | 'checked' | 'onChange' | 'onBlur'
> & { name: string; label: string }

function useMistake(name: string): string | undefined {
  const { formState } = useFormContext()
  const message: unknown = get(formState.errors, `${name}.message`)
  return typeof message === 'string' ? message : undefined
}

export function FormText({ name, ...field }: Named<ComponentProps<typeof TextField>>) {
  const { register } = useFormContext()
  useFieldSpeech(name, field.label)
  return <TextField {...field} {...register(name)} error={useMistake(name)} />
}

export function FormTextArea({ name, ...field }: Named<ComponentProps<typeof TextArea>>) {
  const { register } = useFormContext()
  useFieldSpeech(name, field.label)
  return <TextArea {...field} {...register(name)} error={useMistake(name)} />
}

export function FormNumber({ name, ...field }: Named<ComponentProps<typeof NumberField>>) {
  const { register } = useFormContext()
  const unit = field.unit
  const say = useCallback(
    (value: unknown) =>
      unit && value !== undefined && value !== null ? `${value} ${unit}` : sayPlainly(value),
    [unit],
  )
  useFieldSpeech(name, field.label, say)
  return <NumberField {...field} {...register(name, { setValueAs: readFigure })} error={useMistake(name)} />
}

export function FormDate({ name, ...field }: Named<ComponentProps<typeof DateField>>) {
  const { register } = useFormContext()
  useFieldSpeech(name, field.label)
  return <DateField {...field} {...register(name)} error={useMistake(name)} />
}

export function FormCheckbox({ name, ...field }: Named<ComponentProps<typeof Checkbox>>) {
  const { register } = useFormContext()
  useFieldSpeech(name, field.label)
  return <Checkbox {...field} {...register(name)} error={useMistake(name)} />
}

/** Values are said by their label. */
function useChoiceSpeech(
  name: string,
  field: { label: string; choices: readonly { value: string; label: unknown }[] },
) {
  const { choices, label } = field
  const say = useCallback(
    (value: unknown) => {
      const chosen = choices.find((choice) => choice.value === value)?.label
      return typeof chosen === 'string' ? chosen : sayPlainly(value)
    },
    [choices],
  )
  useFieldSpeech(name, label, say)
}

export function FormSelect({ name, ...field }: Named<ComponentProps<typeof Select>>) {
  const { register } = useFormContext()
  useChoiceSpeech(name, field)
  return <Select {...field} {...register(name)} error={useMistake(name)} />
}

export function FormRadio({ name, ...field }: Named<ComponentProps<typeof RadioGroup>>) {
  const { register } = useFormContext()
  useChoiceSpeech(name, field)
  return <RadioGroup {...field} {...register(name)} error={useMistake(name)} />
}
