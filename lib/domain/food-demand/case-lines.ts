import { emergenceCurve, pupaeCurve } from '../culture/emergence'
import type { LearnedLine } from '../culture/learning'
import type { FoodLine } from '../food-plan/case'
import type { PreyLine } from '../prey/line'

/** Where a line stands and what has been learned of it there. */
export type LineRoom = { temperatureC: number; learned?: LearnedLine }

const CURVE_DAYS = 90
const PUPAE_DAYS = 21

/** A prey line as a food plan takes it. */
export function caseLine(line: PreyLine, { temperatureC, learned }: LineRoom): FoodLine {
  const { supply } = line
  const basics = { id: line.id, name: line.name, dailyDeathRate: supply.dailyDeathRate.value }
  if (supply.kind === 'culture') {
    const { mean, cv, crashChance } = learned ?? supply.yield.value
    const isTooWarm = temperatureC > supply.curve.value.harmfulAboveC
    const at = { temperatureC, days: CURVE_DAYS, delayFactor: learned?.delayFactor }
    return {
      ...basics,
      kind: 'culture',
      // Above the harmful temperature cultures turn sterile: half of them is counted on at most.
      yield: { mean, cv, crashChance: isTooWarm ? Math.max(0.5, crashChance) : crashChance },
      curve: emergenceCurve(supply.curve.value, at),
      starters: supply.starters.value,
      startCost: supply.startCostMinor.value,
      starterCost: supply.starterCostMinor.value,
      discardAfterDays: supply.discardAfterDays.value,
      minimumBatches: supply.minimumBatches.value,
      minutesPerStart: supply.minutesPerStart.value,
    }
  }
  const orders = {
    packSize: supply.packSize.value,
    packCost: supply.packCostMinor.value,
    leadDays: supply.leadDays.value,
    orderWeekdays: supply.orderWeekdays.value,
  }
  if (supply.kind === 'bought') {
    const keepDays = supply.keepDays.value
    return { ...basics, ...orders, kind: 'bought', keepDays, ordersPerWeek: ordersPerWeek(keepDays) }
  }
  const curve = pupaeCurve(supply, { temperatureC, days: PUPAE_DAYS })
  return {
    ...basics,
    ...orders,
    kind: 'bought',
    keepDays: supply.fridgeDays.value.min,
    ordersPerWeek: ordersPerWeek(supply.fridgeDays.value.max),
    curve: curve.map((share) => share * supply.emergingShare.value),
  }
}

/** What keeps for a week and a day can be ordered once a week, whatever days the supplier offers. */
function ordersPerWeek(keepDays: number): 1 | 2 {
  return keepDays < 8 ? 2 : 1
}
