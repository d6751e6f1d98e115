import { clsx } from 'clsx'
import { type ComponentProps, useId } from 'react'
import { CONTROL_STYLE, describeField, FieldFrame, type FieldWords } from './field-frame'

export type Choice = { value: string; label: string; isDisabled?: boolean }

type Props = FieldWords &
  Omit<ComponentProps<'select'>, 'id'> & {
    choices: readonly Choice[]
    /** The empty first line. Without it the first choice is taken, so leave it out only where that is right. */
    placeholder?: string
  }

export function Select({
  label,
  hint,
  error,
  isOptional,
  choices,
  placeholder,
  className,
  ...select
}: Props) {
  const id = useId()
  const words = { label, hint, error, isOptional }
  return (
    <FieldFrame id={id} words={words}>
      <select className={clsx(CONTROL_STYLE, className)} {...describeField(id, words)} {...select}>
        {placeholder === undefined ? null : <option value="">{placeholder}</option>}
        {choices.map((choice) => (
          <option key={choice.value} value={choice.value} disabled={choice.isDisabled}>
            {choice.label}
          </option>
        ))}
      </select>
    </FieldFrame>
  )
}
