/**
 * A value of a care profile with where it comes from. A default is common practice without a single
 * source and must never be shown as a citation; `own` replaces either from a workspace's own knowledge.
 */
export type ValueSource =
  | { kind: 'published'; citation: string }
  | { kind: 'default' }
  | { kind: 'own'; note: string }

export type Sourced<T> = {
  value: T
  source: ValueSource
  /** What the value rests on or where it stops being true; shown beside it. */
  note?: string
}

export type BySex<T> = { male: T; female: T }
export type Range = { min: number; max: number }

/** Common practice, labelled "default" on screen. */
export function byDefault<T>(value: T, note?: string): Sourced<T> {
  return note === undefined
    ? { value, source: { kind: 'default' } }
    : { value, source: { kind: 'default' }, note }
}

/** A figure with a citation. */
export function published<T>(value: T, citation: string, note?: string): Sourced<T> {
  const source: ValueSource = { kind: 'published', citation }
  return note === undefined ? { value, source } : { value, source, note }
}

/** "Default", "Published: Maxwell 2014", "Your own: weighed", and what stands beside it. */
export function saySource(source: ValueSource, note: string | null): string {
  const words = {
    default: 'Default',
    published: source.kind === 'published' ? `Published: ${source.citation}` : '',
    own: source.kind === 'own' && source.note ? `Your own: ${source.note}` : 'Your own',
  }[source.kind]
  return note ? `${words}. ${note}` : words
}
