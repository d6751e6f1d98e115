import { addDays, daysBetween, maxDate, type PlainDate } from '../calendar/date'
import { fittingKinds, type SizedKind } from '../housing/fitting'
import { forecastSeparation } from './deadline'
import type { SeparationInput } from './input'
import { clutchHazard } from './plan-clutch'
import { type ClutchHazard, lossOfDays } from './plan-hazard'
import { type PlanClutch, TAIL_DAYS } from './plan-room'
import { firstSafeDay, untouchableDays } from './untouchable'

export type CollectSpan = { from: PlainDate; days: number }

/**
 * What the plan knows of a clutch over a span that begins today or later: for a later one those expected to be
 * left then. Numbers are rounded to a millionth, so that a room is small enough to be sent to a browser.
 */
export function collectClutch(
  group: { id: string; label: string; input: SeparationInput },
  { kinds, span }: { kinds: readonly SizedKind[]; span: CollectSpan },
): PlanClutch {
  const { input } = group
  const { dueOn, sharesToday } = forecastSeparation(input)
  const wait = Math.max(0, daysBetween(input.today, span.from))
  const hazard = clutchHazard(input, wait + span.days + TAIL_DAYS)
  const lost = lossOfDays(hazard, { from: 0, days: wait }, input.together).loss
  const dates = Array.from({ length: span.days }, (_, day) => addDays(span.from, day))
  const meanMoults = sharesToday.reduce((sum, share, moults) => sum + share * moults, 0)
  return {
    id: group.id,
    label: group.label,
    together: input.together < 2 ? input.together : Math.round(input.together - lost),
    hazard: laterHazard(hazard, wait),
    blocked: untouchableDays(input, dates),
    safeFrom: maxDate(span.from, firstSafeDay(input)),
    apartBy: dueOn,
    containerKinds: fittingKinds(kinds, input.profile, { sex: 'unsexed', moults: Math.ceil(meanMoults) }).map(
      ({ id }) => id,
    ),
  }
}

function laterHazard(hazard: ClutchHazard, days: number): ClutchHazard {
  const from = (values: readonly number[]) => values.slice(days).map(rounded)
  return {
    ...hazard,
    baseRisk: from(hazard.baseRisk),
    ...(hazard.crowdingPerAnimal ? { crowdingPerAnimal: from(hazard.crowdingPerAnimal) } : {}),
  }
}

function rounded(value: number): number {
  return Math.round(value * 1e6) / 1e6
}
