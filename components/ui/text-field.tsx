import { clsx } from 'clsx'
import { type ComponentProps, useId } from 'react'
import { CONTROL_STYLE, describeField, FieldFrame, type FieldWords } from './field-frame'

type Props = FieldWords & Omit<ComponentProps<'input'>, 'id'>

export function TextField({ label, hint, error, isOptional, className, ...input }: Props) {
  const id = useId()
  const words = { label, hint, error, isOptional }
  return (
    <FieldFrame id={id} words={words}>
      <input
        type="text"
        autoComplete="off"
        className={clsx(CONTROL_STYLE, className)}
        {...describeField(id, words)}
        {...input}
      />
    </FieldFrame>
  )
}

type AreaProps = FieldWords & Omit<ComponentProps<'textarea'>, 'id'>

export function TextArea({ label, hint, error, isOptional, className, rows = 3, ...area }: AreaProps) {
  const id = useId()
  const words = { label, hint, error, isOptional }
  return (
    <FieldFrame id={id} words={words}>
      <textarea
        rows={rows}
        className={clsx(CONTROL_STYLE, className)}
        {...describeField(id, words)}
        {...area}
      />
    </FieldFrame>
  )
}
