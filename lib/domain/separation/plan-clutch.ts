import { addDays } from '../calendar/date'
import { sharesByDay } from './deadline'
import type { SeparationInput } from './input'
import type { ClutchHazard } from './plan-hazard'
import { crowdingPerAnimal, riskPerAnimalDay } from './risk'

/**
 * The hazard of a clutch for the plan, from the same values as its deadlines: what does not depend on the
 * number of animals is worked out for each of `days` days from today. Hunger is taken to last.
 */
export function clutchHazard(input: SeparationInput, days: number): ClutchHazard {
  const shares = sharesByDay(input)
  const states = Array.from({ length: days }, (_, day) => ({
    shares: shares(addDays(input.today, day)),
    together: input.together,
    hasSizeGap: input.signs?.hasSizeGap || input.signs?.isMixed,
    lossScale: input.lossScale,
  }))
  const { volumeMl } = input
  return {
    baseRisk: states.map((state) => riskPerAnimalDay(input.profile, state)),
    ...(volumeMl !== undefined && volumeMl > 0
      ? { crowdingPerAnimal: states.map((state) => crowdingPerAnimal(input.profile, { ...state, volumeMl })) }
      : {}),
    ...(input.signs?.isHungry ? { hungerRisk: input.profile.separation.hungerRiskPerDay.value } : {}),
  }
}
