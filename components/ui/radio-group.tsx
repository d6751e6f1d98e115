import { clsx } from 'clsx'
import { type ComponentProps, type ReactNode, useId } from 'react'
import { FieldError, type FieldWords } from './field-frame'

export type RadioChoice = { value: string; label: ReactNode; hint?: ReactNode; isDisabled?: boolean }

type Props = FieldWords &
  Omit<ComponentProps<'input'>, 'id' | 'type' | 'value'> & {
    choices: readonly RadioChoice[]
    value?: string
    /** `tiles` stand beside each other and fill their row, for two to four short words. */
    look?: 'rows' | 'tiles'
  }

const LABEL_STYLE =
  'target flex cursor-pointer items-center gap-3 rounded-edge has-disabled:cursor-default has-disabled:text-soft'
const TILE_STYLE =
  'flex-1 justify-center border border-edge px-3 py-2 font-semibold text-small has-checked:border-ink has-checked:bg-ink has-checked:text-sheet has-focus-visible:outline-3 has-focus-visible:outline-ink has-focus-visible:outline-offset-2'

export function RadioGroup({
  label,
  hint,
  error,
  isOptional,
  choices,
  value,
  look = 'rows',
  ...input
}: Props) {
  const id = useId()
  const describedBy = [hint ? `${id}-hint` : '', error ? `${id}-error` : ''].filter(Boolean).join(' ')
  return (
    <fieldset className="min-w-0" aria-describedby={describedBy || undefined}>
      <legend className="mb-1 font-semibold text-small">
        {label}
        {isOptional ? <span className="font-normal text-soft"> (optional)</span> : null}
      </legend>
      <div className={look === 'tiles' ? 'flex flex-wrap gap-2' : ''}>
        {choices.map((choice) => (
          <label key={choice.value} className={clsx(LABEL_STYLE, look === 'tiles' && TILE_STYLE)}>
            <input
              type="radio"
              {...input}
              value={choice.value}
              disabled={choice.isDisabled}
              aria-invalid={error ? true : undefined}
              className={look === 'tiles' ? 'sr-only' : 'size-5 shrink-0'}
              {...(value === undefined ? {} : { checked: value === choice.value })}
            />
            <span>
              {choice.label}
              {choice.hint ? <span className="block text-fine-print text-soft">{choice.hint}</span> : null}
            </span>
          </label>
        ))}
      </div>
      <FieldError id={id} error={error} />
      {hint ? (
        <p id={`${id}-hint`} className="mt-1 text-fine-print text-soft">
          {hint}
        </p>
      ) : null}
    </fieldset>
  )
}
