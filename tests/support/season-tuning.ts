import { playSeason, type SeasonResult } from './season-play'
import { drawSeason, type RoomKind, type YieldRegime } from './season-room'
import type { TunedRule, Tuning } from './season-rules'

/** Seasons that numbers are chosen on; no season that is judged is among them. */
export const TUNING_SEASONS = Array.from({ length: 6 }, (_, index) => `tuning/${index}`)
const ROUNDS = 2

/** The best numbers of a rule for one kind of room, one number after the other, by the mean score. */
export function tuneRule(rule: TunedRule, cell: { kind: RoomKind; regime: YieldRegime }): Tuning {
  const seasons = TUNING_SEASONS.map((seed) => drawSeason(seed, cell.kind, cell.regime))
  const scoreOf = (tuning: Tuning) =>
    seasons.reduce((sum, season) => sum + playSeason(season, rule.policy(tuning)).score, 0)
  let best: Tuning = rule.grid.map((values) => values[Math.floor(values.length / 2)]!)
  let score = scoreOf(best)
  for (let round = 0; round < ROUNDS; round += 1) {
    const before = score
    for (const [place, values] of rule.grid.entries())
      for (const value of values) {
        if (value === best[place]) continue
        const tried = best.map((each, index) => (index === place ? value : each))
        const next = scoreOf(tried)
        if (next >= score) continue
        best = tried
        score = next
      }
    if (score === before) break
  }
  return best
}

export function sumUp(results: readonly SeasonResult[], of: (result: SeasonResult) => number): number {
  return results.reduce((sum, result) => sum + of(result), 0) / results.length
}
