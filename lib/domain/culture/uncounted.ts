import { addDays, daysBetween, maxDate, type PlainDate } from '../calendar/date'
import { addUp, aliveShare, type CultureLaw, cultureFutures, type RunningCulture } from './running'

/** Flies expected in a jar, with the range that eight jars in ten lie in. */
export type Uncounted = { mean: number; low: number; high: number }

export const NOBODY_COUNTED: Uncounted = { mean: 0, low: 0, high: 0 }

/**
 * The day from which on what came out of a jar stands in no harvest and no count: a harvest takes what is there, and
 * who counts the flies of a line counts those in its jars.
 */
export function uncountedSince({ startedOn, harvested = [] }: RunningCulture, countedOn: PlainDate | null) {
  const last = harvested.reduce<PlainDate | null>(
    (latest, { on }) => (latest === null || on > latest ? on : latest),
    countedOn,
  )
  return last === null ? startedOn : maxDate(startedOn, addDays(last, 1))
}

/** What came out since and is alive today, by the futures its harvests leave open. O(futures × days). */
export function expectUncounted(
  culture: RunningCulture,
  law: CultureLaw,
  known: { since: PlainDate; today: PlainDate; survival: number; share: number },
): Uncounted {
  const { today, survival, share } = known
  const since = daysBetween(culture.startedOn, known.since)
  const age = daysBetween(culture.startedOn, today)
  const added = addUp(law.curve)
  const possible = cultureFutures(culture, law)
    .map(({ total, lateDays, weight }) => ({
      flies: share * total * aliveShare(added, { since, age, lateDays, survival }),
      weight,
    }))
    .sort((a, b) => a.flies - b.flies)
  const mean = possible.reduce((sum, { flies, weight }) => sum + flies * weight, 0)
  return { mean, low: quantileOf(possible, 0.1), high: quantileOf(possible, 0.9) }
}

function quantileOf(possible: readonly { flies: number; weight: number }[], chance: number): number {
  let left = chance
  for (const { flies, weight } of possible) {
    left -= weight
    if (left <= 0) return flies
  }
  return possible.at(-1)?.flies ?? 0
}
