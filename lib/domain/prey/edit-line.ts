import type { Sourced } from '../care-profile/value'
import type { PreyLine } from './line'

/** One figure of a line with its words and source, for a list or an editor. */
export type ListedPreyValue = {
  path: string
  value: unknown
  source: Sourced<unknown>['source']
  note: string | null
}

/** Every sourced value of a line; the path names it for `withPreyValue`. */
export function listPreyValues(line: PreyLine): ListedPreyValue[] {
  const own = { lengthMm: line.lengthMm, standsFor: line.standsFor, takenByLengthMm: line.takenByLengthMm }
  const supply = Object.entries(line.supply).map(([name, value]) => [`supply.${name}`, value] as const)
  return [...Object.entries(own), ...supply].flatMap(([path, sourced]) =>
    isSourced(sourced)
      ? [{ path, value: sourced.value, source: sourced.source, note: sourced.note ?? null }]
      : [],
  )
}

/**
 * The line with one value replaced by the room's own. Returns null where the path names none or the value has
 * another shape.
 */
export function withPreyValue(
  line: PreyLine,
  path: string,
  own: { value: unknown; note: string },
): PreyLine | null {
  const present = listPreyValues(line).find((each) => each.path === path)
  if (!present || !isSameShape(present.value, own.value)) return null
  const sourced = { value: own.value, source: { kind: 'own', note: own.note } }
  const name = path.replace(/^supply\./, '')
  return path.startsWith('supply.')
    ? { ...line, supply: { ...line.supply, [name]: sourced } }
    : { ...line, [name]: sourced }
}

function isSourced(value: unknown): value is Sourced<unknown> {
  return typeof value === 'object' && value !== null && 'source' in value && 'value' in value
}

function isSameShape(before: unknown, after: unknown): boolean {
  if (typeof before === 'number') return typeof after === 'number' && Number.isFinite(after) && after >= 0
  if (Array.isArray(before)) return Array.isArray(after)
  if (typeof before !== 'object' || before === null) return typeof before === typeof after
  if (typeof after !== 'object' || after === null || Array.isArray(after)) return false
  const values = new Map<string, unknown>(Object.entries(after))
  return Object.entries(before).every(([key, value]) =>
    value === null ? values.has(key) : isSameShape(value, values.get(key)),
  )
}
