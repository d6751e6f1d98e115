import type { FieldValues } from 'react-hook-form'

/**
 * What was typed, over one reload of the page: the only way out of an older build that loses nothing. Kept in
 * the tab alone, gone when it has been taken up, and never with a password.
 */
export type Draft = { operationId: string; values: FieldValues }

const keyOf = (name: string) => `draft:${window.location.pathname}:${name}`

export function storeDraft(name: string, draft: Draft, secretNames: readonly string[]): void {
  const values = Object.fromEntries(
    Object.entries(draft.values).filter(([key]) => !secretNames.includes(key)),
  )
  window.sessionStorage.setItem(keyOf(name), JSON.stringify({ ...draft, values }))
}

function isDraft(value: unknown): value is Draft {
  return (
    typeof value === 'object' &&
    value !== null &&
    'operationId' in value &&
    typeof value.operationId === 'string' &&
    'values' in value &&
    typeof value.values === 'object' &&
    value.values !== null
  )
}

export function takeDraft(name: string): Draft | undefined {
  const stored = window.sessionStorage.getItem(keyOf(name))
  if (stored === null) return undefined
  window.sessionStorage.removeItem(keyOf(name))
  const draft: unknown = JSON.parse(stored)
  return isDraft(draft) ? draft : undefined
}
