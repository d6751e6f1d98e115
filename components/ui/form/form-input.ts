import { type FieldErrors, type FieldValues, type Resolver, set } from 'react-hook-form'
import type { z } from 'zod'
import { sayIssue } from '@/lib/platform/issue-words'

/**
 * An empty box and an untouched choice (null) mean that nothing was said, so they are not sent at all. Otherwise an optional figure left empty
 * would arrive as zero, and an optional name as a name of no letters.
 */
export function dropEmpty(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(dropEmpty)
  if (value === null || typeof value !== 'object' || Object.getPrototypeOf(value) !== Object.prototype)
    return value
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, part]) => part !== '' && part !== undefined && part !== null)
      .map(([key, part]) => [key, dropEmpty(part)]),
  )
}

/** "26,1" and "26.1" are the same figure; what is no figure stays as typed, for the schema to refuse. */
export function readFigure(typed: unknown): unknown {
  if (typeof typed !== 'string') return typed
  const trimmed = typed.trim().replace(/\s/g, '')
  if (trimmed === '') return undefined
  const figure = Number(trimmed.replace(',', '.'))
  return Number.isFinite(figure) ? figure : typed
}

export type FieldMessage = { path: string; message: string }

/** Messages by dotted path → the nested shape react-hook-form keeps. The first message of a field stands. */
export function nestMessages(messages: readonly FieldMessage[]): FieldErrors<FieldValues> {
  const nested: FieldErrors<FieldValues> = {}
  const seen = new Set<string>()
  for (const { path, message } of messages) {
    const key = path === '' ? 'root' : path
    if (seen.has(key)) continue
    seen.add(key)
    set(nested, key, { type: 'schema', message })
  }
  return nested
}

/** Checks with the schema of the action, and passes on what was typed: the action parses for itself. */
export function resolveWith(schema: z.ZodType): Resolver<FieldValues> {
  return async (values) => {
    const input = dropEmpty(values)
    const parsed = await schema.safeParseAsync(input, { error: sayIssue })
    if (parsed.success) return { values, errors: {} }
    const messages = parsed.error.issues.map((issue) => ({
      path: issue.path.join('.'),
      message: issue.message,
    }))
    return { values: {}, errors: nestMessages(messages) }
  }
}
