import type { ReactNode } from 'react'

export type FieldWords = {
  label: ReactNode
  hint?: ReactNode
  error?: string | undefined
  /** Said in the label. What is not marked optional has to be filled in. */
  isOptional?: boolean
}

/** What ties a control to its words for a screen reader: spread on the control itself. */
export function describeField(id: string, words: FieldWords) {
  const describedBy = [words.hint ? `${id}-hint` : '', words.error ? `${id}-error` : ''].filter(Boolean)
  return {
    id,
    'aria-invalid': words.error ? true : undefined,
    'aria-required': words.isOptional ? undefined : true,
    'aria-describedby': describedBy.length > 0 ? describedBy.join(' ') : undefined,
  }
}

export const CONTROL_STYLE =
  'target w-full rounded-edge border border-edge bg-sheet px-3 py-2 text-body text-ink placeholder:text-soft aria-invalid:border-2 aria-invalid:border-hand disabled:bg-transparent disabled:text-soft read-only:bg-transparent'

export function FieldError({ id, error }: { id: string; error: string | undefined }) {
  if (!error) return null
  return (
    <p id={`${id}-error`} className="mt-1 flex items-start gap-1.5 font-semibold text-hand text-small">
      <svg viewBox="0 0 12 12" className="mt-1 size-3 shrink-0 fill-current" aria-hidden="true">
        <path d="M1 1h10v10H1z" />
      </svg>
      <span>{error}</span>
    </p>
  )
}

/** Label above, control, hint, and the mistake right under the control it is about. */
export function FieldFrame({ id, words, children }: { id: string; words: FieldWords; children: ReactNode }) {
  return (
    <div className="min-w-0">
      <label htmlFor={id} className="mb-1 block font-semibold text-small">
        {words.label}
        {words.isOptional ? <span className="font-normal text-soft"> (optional)</span> : null}
      </label>
      {children}
      <FieldError id={id} error={words.error} />
      {words.hint ? (
        <p id={`${id}-hint`} className="mt-1 text-fine-print text-soft">
          {words.hint}
        </p>
      ) : null}
    </div>
  )
}
