import { readFileSync } from 'node:fs'
import path from 'node:path'
import { fontCoverage } from './font-coverage'

/** What stands for a sign that no font on board can draw. */
export const MISSING_SIGN = '□'

/** No-break, thin and narrow no-break space, which number and date formats put on purpose. */
const NARROW_SPACES = ['\u00a0', '\u2009', '\u202f']

/**
 * Text as it can be printed. A PDF for screen readers may not hold a sign that its fonts lack, so such a sign
 * becomes an empty square; invisible signs that turn the direction of the text around, or that only join
 * others, go; heaps of accents are cut down. The fallback font has both weights, so a sign must be in both.
 */
export function displayableText(text: string): string {
  return text
    .normalize('NFC')
    .replace(/[\p{Cf}\p{Co}\p{Cs}\p{Cn}]|\p{Variation_Selector}/gu, '')
    .replace(/[\p{Cc}\s]+/gu, (space) => (NARROW_SPACES.includes(space) ? space : ' '))
    .replace(/(\p{M}{2})\p{M}+/gu, '$1')
    .replace(/./gsu, (sign) => (canBeDrawn(sign) ? sign : MISSING_SIGN))
}

/** The signs of a text that would be printed as empty squares, each once. */
export function unprintableSigns(text: string): string[] {
  const signs = [...new Set(text.normalize('NFC'))]
  return signs.filter((sign) => sign !== MISSING_SIGN && displayableText(sign) === MISSING_SIGN)
}

/** The same for every text inside a plain JSON value. */
export function displayable<T>(value: T): T
export function displayable(value: unknown): unknown {
  if (typeof value === 'string') return displayableText(value)
  if (Array.isArray(value)) return value.map((item) => displayable(item))
  if (value === null || typeof value !== 'object') return value
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, displayable(item)]))
}

/**
 * Whether the italic of the serif can draw a whole word. It must not fall back: the fallback has no italic of
 * its own on board, and a machine that happens to have one installed would use that, with fewer signs in it.
 */
export function canBeItalic(word: string): boolean {
  return [...word].every((sign) => isCovered(sign, ['Literata_400Regular_Italic.ttf']))
}

function canBeDrawn(sign: string): boolean {
  return isCovered(sign, ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'])
}

const coverages = new Map<string, Set<number>>()

/** Fonts are whole files in lib/documents/fonts, read from the directory the process was started in. */
function isCovered(sign: string, files: string[]): boolean {
  return files.every((file) => {
    const known = coverages.get(file)
    const coverage =
      known ?? fontCoverage(readFileSync(path.join(process.cwd(), 'lib/documents/fonts', file)))
    coverages.set(file, coverage)
    return coverage.has(sign.codePointAt(0) ?? 0)
  })
}
