import { canBeItalic, displayableText } from '../displayable'

/**
 * A sentence knows how much it matters, so that a full page can leave out what matters least:
 * 0 the animal or a person may come to harm without it, 1 useful, 2 pleasant to know.
 */
export type Sentence = { text: string; rank: 0 | 1 | 2; isHush?: boolean; isLead?: boolean }

export type Section = { heading: string; sentences: Sentence[] }

export const must = (text: string): Sentence => ({ text, rank: 0 })
export const useful = (text: string): Sentence => ({ text, rank: 1 })
export const pleasant = (text: string): Sentence => ({ text, rank: 2 })
/** What a hurried reader must see: set in bold. */
export const lead = (text: string): Sentence => ({ text, rank: 0, isLead: true })
/** Leave-alone rules have their own colour everywhere, and are bold besides. */
export const hush = (text: string): Sentence => ({ text, rank: 0, isHush: true })

/** Drops what is not known; a missing value leaves its sentence out. */
export function joined<T>(items: (T | null | undefined | false | '')[]): T[] {
  return items.filter(
    (item): item is T => item !== null && item !== undefined && item !== false && item !== '',
  )
}

/** At most `limit` signs as a reader counts them, cut with an ellipsis; null when there is nothing to read. */
export function shorten(text: string | null | undefined, limit: number): string | null {
  const line = displayableText(text ?? '')
    .replace(/\s+/gu, ' ')
    .trim()
  if (line === '') return null
  const signs = [...new Intl.Segmenter(undefined, { granularity: 'grapheme' }).segment(line)]
  if (signs.length <= limit) return line
  return `${signs
    .slice(0, limit - 1)
    .map((sign) => sign.segment)
    .join('')
    .trimEnd()}…`
}

export type LatinPart = { text: string; isItalic: boolean }

const UPRIGHT = new Set(['sp.', 'spp.', 'cf.', 'aff.', 'ssp.', 'subsp.', 'var.', '×'])

/** Genus and species are italic, "sp.", "cf." and the like upright, as the codes of nomenclature have it. */
export function latinParts(scientificName: string): LatinPart[] {
  const parts: LatinPart[] = []
  for (const word of scientificName.split(' ')) {
    const isItalic = !UPRIGHT.has(word) && canBeItalic(word)
    const last = parts.at(-1)
    if (last && last.isItalic === isItalic) last.text += ` ${word}`
    else parts.push({ text: word, isItalic })
  }
  return parts
}

/** The same name where nothing can be italic. */
export function latinText(scientificName: string): string {
  return shorten(scientificName, 60) ?? '?'
}
