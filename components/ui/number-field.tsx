import { clsx } from 'clsx'
import { type ComponentProps, useId } from 'react'
import { CONTROL_STYLE, describeField, FieldFrame, type FieldWords } from './field-frame'

type Props = FieldWords &
  Omit<ComponentProps<'input'>, 'id' | 'type' | 'inputMode'> & {
    /** Shown behind the figure and read with it: "°C", "mm". */
    unit?: string
    isWhole?: boolean
  }

/**
 * A text box with the number keys. Not type=number: that changes a figure under a wheel or an arrow key, hides
 * what it cannot read, and would clamp a wrong count to a plausible one instead of saying that it is wrong.
 */
export function NumberField({ label, hint, error, isOptional, unit, isWhole, className, ...input }: Props) {
  const id = useId()
  const words = { label, hint, error, isOptional }
  const described = describeField(id, words)
  const describedBy = [unit ? `${id}-unit` : '', described['aria-describedby']].filter(Boolean).join(' ')
  return (
    <FieldFrame id={id} words={words}>
      <span className="flex items-center gap-2">
        <input
          type="text"
          autoComplete="off"
          inputMode={isWhole ? 'numeric' : 'decimal'}
          className={clsx(CONTROL_STYLE, 'max-w-40', className)}
          {...described}
          aria-describedby={describedBy || undefined}
          {...input}
        />
        {unit ? (
          <span id={`${id}-unit`} className="text-small text-soft">
            {unit}
          </span>
        ) : null}
      </span>
    </FieldFrame>
  )
}
