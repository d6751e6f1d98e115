import { clsx } from 'clsx'
import { type ComponentProps, useId } from 'react'
import { CONTROL_STYLE, describeField, FieldFrame, type FieldWords } from './field-frame'

type Props = FieldWords & Omit<ComponentProps<'input'>, 'id' | 'type'>

/** A calendar day. The device's own picker: it knows the person's order of day and month, and is a keyboard's. */
export function DateField({ label, hint, error, isOptional, className, ...input }: Props) {
  const id = useId()
  const words = { label, hint, error, isOptional }
  return (
    <FieldFrame id={id} words={words}>
      <input
        type="date"
        className={clsx(CONTROL_STYLE, 'max-w-52', className)}
        {...describeField(id, words)}
        {...input}
      />
    </FieldFrame>
  )
}
