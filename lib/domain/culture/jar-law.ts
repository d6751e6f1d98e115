import { addDays, type PlainDate } from '../calendar/date'
import { addUp, type CultureLaw, shareBefore } from './running'

/** A jar that was carried elsewhere: it stands there from that day on. */
export type JarMove = { on: PlainDate; fromZoneId: string; toZoneId: string }

export type PlacedJar = {
  startedOn: PlainDate
  /** Where it stands now. */
  zoneId: string
  moves?: readonly JarMove[]
  /** Flies that were put in; null where nobody counted them. */
  starters?: number | null
}

/** What a line does in a zone, and how many effective days a day there is worth to it. */
export type ZoneLaw = { law: CultureLaw; rate: number }

/** What one jar is expected to do, and at which age it is discarded. */
export type JarLaw = {
  law: CultureLaw
  discardAfterDays: number
  /** Of what a usual jar gives, by how full it was made. */
  crowding: number
}

/** A jar kept cool lives slowly, but not for ever: medium dries out and mites come. A default. */
const LONGEST_TIMES = 2

/**
 * What is expected of a jar by where it stood. Laying and development both run in effective days, so that what came
 * where it is warm comes where it is cool in the same order, only spread over more days: a moved jar has the curve of
 * the warmest place it stood in, read at the age it has in days of that place. It is discarded at the age its line
 * has in the place where it was started, counted the same way. O(days).
 */
export function lawOfJar(
  jar: PlacedJar,
  known: { lawIn: (zoneId: string) => ZoneLaw; discardAfterDays: number; usualStarters: number },
): JarLaw {
  const { lawIn, discardAfterDays } = known
  const here = lawIn(jar.zoneId)
  const crowding = crowdingShare(jar.starters ?? null, known.usualStarters)
  const law = { ...here.law, mean: here.law.mean * crowding }
  if (!jar.moves?.length) return { law, discardAfterDays, crowding }
  const laws = zonesByDay(jar, here.law.curve.length).map(lawIn)
  const warmest = laws.reduce((best, each) => (each.rate > best.rate ? each : best))
  const rates = laws.map(({ rate }) => rate)
  const paces = rates.map((rate) => (warmest.rate > 0 ? rate / warmest.rate : 0))
  return {
    law: { ...law, curve: readAtPace(warmest.law.curve, paces) },
    discardAfterDays: lastingDays(rates, discardAfterDays),
    crowding,
  }
}

/** The zone of each day from the start on. A move counts from its day. */
function zonesByDay({ startedOn, zoneId, moves = [] }: PlacedJar, days: number): string[] {
  const inOrder = [...moves].sort((a, b) => (a.on < b.on ? -1 : 1))
  return Array.from({ length: days }, (_, day) => {
    const on = addDays(startedOn, day)
    return inOrder.findLast((move) => move.on <= on)?.toZoneId ?? inOrder[0]?.fromZoneId ?? zoneId
  })
}

/** A curve per day, read by somebody whose days are so long each. */
function readAtPace(curve: readonly number[], paces: readonly number[]): number[] {
  const added = addUp(curve)
  let age = 0
  return paces.map((pace) => {
    const before = shareBefore(added, age)
    age += pace
    return shareBefore(added, age) - before
  })
}

/**
 * The age in days at which a jar is discarded, by where it stood: that of its line unless it was moved. `rateOf` is how
 * many effective days a day in a zone is worth. O(days).
 */
export function discardAgeOfJar(jar: PlacedJar, days: number, rateOf: (zoneId: string) => number): number {
  if (!jar.moves?.length) return days
  return lastingDays(zonesByDay(jar, LONGEST_TIMES * days).map(rateOf), days)
}

/** Days until as much has been lived through as in so many days of the first place. */
function lastingDays(rates: readonly number[], days: number): number {
  const first = rates[0] ?? 0
  if (!(first > 0)) return days
  const longest = Math.min(rates.length, LONGEST_TIMES * days)
  let lived = 0
  for (let day = 0; day < longest; day += 1) {
    lived += rates[day]! / first
    if (lived > days - 1e-9) return Math.max(1, day + 1)
  }
  return longest
}

/**
 * Of what a usual jar gives, the share to be expected of one with so many starters: few lay too few eggs, many fill the
 * medium with larvae that starve each other. Ricker's law of scramble competition (1954), x·exp(1 − x) in multiples of
 * the usual number, which is taken for the best one; a default.
 */
export function crowdingShare(starters: number | null, usual: number): number {
  if (starters === null || !(usual > 0)) return 1
  const times = starters / usual
  return times * Math.exp(1 - times)
}
