import { type ComponentProps, useId } from 'react'
import { describeField, FieldError, type FieldWords } from './field-frame'

type Props = Omit<FieldWords, 'isOptional'> & Omit<ComponentProps<'input'>, 'id' | 'type'>

export function Checkbox({ label, hint, error, ...input }: Props) {
  const id = useId()
  return (
    <div className="min-w-0">
      <label htmlFor={id} className="target flex cursor-pointer items-center gap-3">
        <input
          type="checkbox"
          className="size-5 shrink-0"
          {...describeField(id, { label, hint, error, isOptional: true })}
          {...input}
        />
        <span>{label}</span>
      </label>
      <FieldError id={id} error={error} />
      {hint ? (
        <p id={`${id}-hint`} className="ms-8 text-fine-print text-soft">
          {hint}
        </p>
      ) : null}
    </div>
  )
}
