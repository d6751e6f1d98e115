import type { z } from 'zod'
import type { FieldError } from '@/lib/platform/errors'
import { listFieldErrors } from '@/lib/platform/field-errors'
import { sayIssue } from '@/lib/platform/issue-words'

export type ReadInput<T> = { status: 'ok'; data: T } | { status: 'invalid'; fields: FieldError[] }

/**
 * What somebody sent, as its schema has it. Texts with characters that the database takes in none (NUL, half of a
 * pair) are refused here for every way in: each would otherwise fail only where it is stored or compared.
 */
export function readInput<S extends z.ZodType>(schema: S, value: unknown): ReadInput<z.output<S>> {
  const parsed = schema.safeParse(value, { error: sayIssue })
  if (!parsed.success) return { status: 'invalid', fields: listFieldErrors(parsed.error) }
  const fields = listUnstorable(value, [])
  return fields.length > 0 ? { status: 'invalid', fields } : { status: 'ok', data: parsed.data }
}

function listUnstorable(value: unknown, path: readonly string[]): FieldError[] {
  if (typeof value === 'string') {
    const isStorable = !value.includes('\u0000') && !/\p{Surrogate}/u.test(value)
    return isStorable ? [] : [{ path: path.join('.'), message: 'Holds a character that no text can keep.' }]
  }
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, inside]) => listUnstorable(inside, [...path, key]))
}
