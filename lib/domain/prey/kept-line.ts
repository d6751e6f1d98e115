import { DEFAULT_PREY_LINES } from './default-lines'
import type { PreyLine } from './line'

/** What a room is taken to keep until it says otherwise: the two fruit flies, and pupae for what outgrows them. */
const KEPT_BY_DEFAULT: readonly string[] = [
  'melanogaster',
  'hydei',
  'house-fly',
  'green-bottle',
  'blue-bottle',
]

/** A line as one room has it: its figures, whether it is kept, and the version of them (0: nobody has changed any). */
export type RoomLine = { line: PreyLine; kept: boolean; number: number; version: number; isOwn: boolean }

/** What is stored of a line that the room has touched. */
export type StoredLine = {
  slug: string
  kept: boolean
  version: number
  number: number | null
  content: PreyLine | null
}

/** The common lines and the room's own, in the order of the common ones; what is stored stands before what is common. */
export function mergeLines(stored: readonly StoredLine[]): RoomLine[] {
  const bySlug = new Map(stored.map((each) => [each.slug, each]))
  const common = DEFAULT_PREY_LINES.map((line): RoomLine => {
    const own = bySlug.get(line.id)
    return {
      line: own?.content ?? line,
      kept: own?.kept ?? KEPT_BY_DEFAULT.includes(line.id),
      number: own?.number ?? 0,
      version: own?.version ?? 0,
      isOwn: false,
    }
  })
  const known = new Set(DEFAULT_PREY_LINES.map(({ id }) => id))
  const own = stored.flatMap(({ slug, kept, number, version, content }): RoomLine[] =>
    known.has(slug) || !content ? [] : [{ line: content, kept, number: number ?? 0, version, isOwn: true }],
  )
  return [...common, ...own]
}

/** A line of one's own: the figures of another one, said to be taken over. */
export function adoptLine(line: PreyLine, own: { id: string; name: string }): PreyLine {
  const note = `Taken over from ${line.name}`
  const adopt = (value: unknown): unknown =>
    typeof value === 'object' && value !== null && 'source' in value && 'value' in value
      ? { value: value.value, source: { kind: 'own', note } }
      : value
  const supply = Object.fromEntries(Object.entries(line.supply).map(([key, value]) => [key, adopt(value)]))
  const { lengthMm, standsFor, takenByLengthMm } = line
  return {
    ...own,
    lengthMm: adopt(lengthMm) as PreyLine['lengthMm'],
    standsFor: adopt(standsFor) as PreyLine['standsFor'],
    takenByLengthMm: adopt(takenByLengthMm) as PreyLine['takenByLengthMm'],
    supply: supply as PreyLine['supply'],
  }
}

/** "Blue flies, large" as `blue-flies-large`; empty where no letter is left. */
export function lineSlug(name: string): string {
  return name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40)
}
