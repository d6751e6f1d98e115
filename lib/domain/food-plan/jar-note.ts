import { daysBetween } from '../calendar/date'
import { writeCount } from '../calendar/wording'
import { SUSPECT_YIELD_SHARE } from '../culture/mites'
import { addUp, shareBefore } from '../culture/running'
import { roundFlies } from '../culture/shelf'
import { expectUncounted } from '../culture/uncounted'
import type { CaseCulture, CultureLine, FoodCase } from './case'
import { lawOfCulture } from './scenario'

/** Fewer flies than this, and days or shares closer to the usual ones, are not worth a sentence. */
const FEW_FLIES = 5
const FEW_DAYS = 2
const USUAL_YIELD = 0.8

/**
 * What the plan knows of jars and nobody would guess: flies in them that stand in no harvest, jars that come later or
 * earlier than the others since they stood cooler or warmer, and jars that give less than usual.
 */
export function listJarNotes({ lines, cultures = [], from }: FoodCase): string[] {
  return lines.flatMap((line): string[] => {
    if (line.kind !== 'culture') return []
    const own = cultures.filter((culture) => culture.line === line.id)
    return [...noteUncounted(line, own, from), ...noteTiming(line, own, from), ...noteYield(line, own)]
  })
}

function noteUncounted(line: CultureLine, own: readonly CaseCulture[], from: string): string[] {
  const found = own.flatMap((culture) => {
    if (!culture.uncountedSince) return []
    const { mean, low, high } = expectUncounted(culture, lawOfCulture(culture, line), {
      since: culture.uncountedSince,
      today: from,
      survival: 1 - (line.dailyDeathRate ?? 0),
      share: culture.isSuspect ? SUSPECT_YIELD_SHARE : 1,
    })
    const count = culture.count ?? 1
    return mean * count < 1 ? [] : [{ mean: mean * count, variance: count * (high - low) ** 2, count }]
  })
  const mean = found.reduce((sum, each) => sum + each.mean, 0)
  if (mean < FEW_FLIES) return []
  const half = Math.sqrt(found.reduce((sum, each) => sum + each.variance, 0)) / 2
  const jars = found.reduce((sum, { count }) => sum + count, 0)
  const range = `${roundFlies(Math.max(0, mean - half))} to ${roundFlies(mean + half)}`
  return [
    `${writeCount(jars, 'jar')} of ${nameOf(line)} ${jars === 1 ? 'holds' : 'hold'} about ${roundFlies(mean)} flies (${range}) that stand in no harvest: the plan begins with them. Where that is wrong, write down a harvest or count them.`,
  ]
}

/** Jars with a curve of their own, by how far what is still to come of them lies from where it would of a usual one. */
function noteTiming(line: CultureLine, own: readonly CaseCulture[], from: string): string[] {
  const shifts = own.flatMap((culture) => {
    if (!culture.curve) return []
    const age = daysBetween(culture.startedOn, from)
    const [here, usual] = [meanDayFrom(culture.curve, age), meanDayFrom(line.curve, age)]
    return here === null || usual === null ? [] : [{ culture, days: Math.round(here - usual) }]
  })
  const say = (wanted: (days: number) => boolean, words: string): string[] => {
    const those = shifts.filter(({ days }) => Math.abs(days) >= FEW_DAYS && wanted(days))
    if (those.length === 0) return []
    const most = Math.max(...those.map(({ days }) => Math.abs(days)))
    return [
      `${nameJars(
        line,
        those.map(({ culture }) => culture),
      )} ${words} by up to ${writeCount(most, 'day')}.`,
    ]
  }
  return [
    ...say((days) => days > 0, 'stood cooler than the others: their flies come later'),
    ...say((days) => days < 0, 'stood warmer than the others: their flies come earlier'),
  ]
}

/** Mean day, counted from an age, of what a curve still gives after it; null where that is nothing. */
function meanDayFrom(curve: readonly number[], age: number): number | null {
  const added = addUp(curve)
  const left = (added.at(-1) ?? 0) - shareBefore(added, age)
  if (left < 0.02) return null
  return curve.slice(Math.max(0, age)).reduce((sum, share, day) => sum + (share * (day + 0.5)) / left, 0)
}

function noteYield(line: CultureLine, own: readonly CaseCulture[]): string[] {
  const poor = own.filter(({ yieldShare = 1 }) => yieldShare < USUAL_YIELD)
  if (poor.length === 0) return []
  const least = Math.min(...poor.map(({ yieldShare = 1 }) => yieldShare))
  return [
    `${nameJars(line, poor)} ${poor.length === 1 ? 'gives' : 'give'} less than a usual jar, as little as ${Math.round(100 * least)} % of it: made too full or too thin, or in a zone that gives less. The plan counts on that much.`,
  ]
}

const NAMED_JARS = 4

/** "Fruit fly, hydei J-3 and J-4", "… J-3, J-4 and 6 others". */
function nameJars(line: CultureLine, jars: readonly CaseCulture[]): string {
  const count = jars.reduce((sum, each) => sum + (each.count ?? 1), 0)
  const labels = jars.flatMap(({ id }) => (id ? [id] : []))
  if (labels.length < jars.length) return `${writeCount(count, 'jar')} of ${nameOf(line)}`
  const named = labels.slice(0, NAMED_JARS)
  const others = count - named.length
  const last = others > 0 ? `${others} others` : (named.pop() ?? '')
  return `${nameOf(line)} ${named.length > 0 ? `${named.join(', ')} and ${last}` : last}`
}

function nameOf({ name, id }: CultureLine): string {
  return name ?? id
}
