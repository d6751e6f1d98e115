/**
 * What a refused meal says of the next moult. Before a moult an animal fasts for some effective days, equally likely
 * one of these; while it does it refuses nearly every meal, and else seldom. Defaults: fasting "lasts days, up to one
 * or two weeks", and nobody has published how often a fed nymph refuses.
 */
const FAST_DAYS = [2, 4, 7, 12]
const REFUSES_FASTING = 0.75
const REFUSES_ELSE = 0.1

/** The chance that an animal refuses a meal, where the chance of its moult within so many effective days is known. */
export function chanceOfRefusal(chanceBy: (effectiveDays: number) => number): number {
  const fasting = FAST_DAYS.reduce((sum, days) => sum + chanceBy(days), 0) / FAST_DAYS.length
  return REFUSES_ELSE + (REFUSES_FASTING - REFUSES_ELSE) * fasting
}

/**
 * P(moult within so many effective days from now), given that it refused `refusedFor` effective days ago and has eaten
 * nothing since: Bayes over the waiting time. Without a refusal, and long after one, the chances stay as they are.
 */
export function withRefusal(
  chanceBy: (effectiveDays: number) => number,
  refusedFor: number | null,
): (effectiveDays: number) => number {
  if (refusedFor === null) return chanceBy
  const left = FAST_DAYS.map((days) => Math.max(0, days - refusedFor))
  const fasting = (until: number) =>
    left.reduce((sum, days) => sum + chanceBy(Math.min(until, days)), 0) / left.length
  const more = REFUSES_FASTING - REFUSES_ELSE
  const total = REFUSES_ELSE + more * fasting(Number.POSITIVE_INFINITY)
  return (effectiveDays) => (REFUSES_ELSE * chanceBy(effectiveDays) + more * fasting(effectiveDays)) / total
}
