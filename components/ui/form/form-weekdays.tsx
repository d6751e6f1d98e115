'use client'

import { get, useFormContext } from 'react-hook-form'
import { FieldError } from '../field-frame'
import { FormCheckbox } from './form-field'

const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday']

/** Seven ticks, Monday first. */
export function FormWeekdays({ name, label, hint }: { name: string; label: string; hint?: string }) {
  const { formState } = useFormContext()
  const message: unknown =
    get(formState.errors, `${name}.message`) ?? get(formState.errors, `${name}.root.message`)
  return (
    <fieldset className="min-w-0">
      <legend className="mb-1 font-semibold text-small">{label}</legend>
      {hint ? <p className="text-fine-print text-soft">{hint}</p> : null}
      <div className="grid grid-cols-2 gap-x-4 desk:grid-cols-4">
        {WEEKDAYS.map((weekday, index) => (
          <FormCheckbox key={weekday} name={`${name}.${index}`} label={weekday} />
        ))}
      </div>
      <FieldError id={`${name}-days`} error={typeof message === 'string' ? message : undefined} />
    </fieldset>
  )
}

/** Weekdays by their numbers as seven ticks. */
export function tickWeekdays(weekdays: readonly number[]): boolean[] {
  return WEEKDAYS.map((_, index) => weekdays.includes(index + 1))
}
