import { HIGHEST_CROWDING, HIGHEST_RISK_PER_DAY } from './risk'

/**
 * Losses of siblings left together, as the plan sees them.
 *
 *   L(n) = n × min(0.95, base × crowding(n) + hunger),   crowding(n) = min(4, max(1, n × crowdingPerAnimal))
 *
 * the same form as `riskPerAnimalDay`, with everything but the number of animals worked out by day. n is an
 * expected number and need not be whole. L is convex up to the fourfold crowding; beyond it the tangents are
 * those of its lower convex hull.
 */
export type ClutchHazard = {
  /** Risk per animal and day with room enough, by day from today; the last one holds for all days after. */
  baseRisk: readonly number[]
  /** 1 / the number of animals at ease in their container, by day; absent where crowding does not count. */
  crowdingPerAnimal?: readonly number[]
  /** Added for hungry ones, per animal and day. */
  hungerRisk?: number
}

export type Tangent = { slope: number; offset: number }

/** Where a line is compared with the loss it must stay under. */
const SAMPLES = 40
/** Where tangents touch, as shares of the animals at the start. */
const TANGENT_SHARES = [0.08, 0.22, 0.4, 0.6, 0.8, 1]

function onDay(values: readonly number[] | undefined, day: number): number {
  return values?.[Math.min(day, values.length - 1)] ?? 0
}

/** Animals lost between this evening and the next when `count` stay together. */
export function lossOfDay(hazard: ClutchHazard, day: number, count: number): number {
  return count * riskOfDay(hazard, day, count)
}

export function riskOfDay(hazard: ClutchHazard, day: number, count: number): number {
  const crowding = Math.min(HIGHEST_CROWDING, Math.max(1, count * onDay(hazard.crowdingPerAnimal, day)))
  return Math.min(HIGHEST_RISK_PER_DAY, onDay(hazard.baseRisk, day) * crowding + (hazard.hungerRisk ?? 0))
}

/** What one animal more together costs by tomorrow: dL/dn. */
export function marginalLossOfDay(hazard: ClutchHazard, day: number, count: number): number {
  const risk = riskOfDay(hazard, day, count)
  const crowding = count * onDay(hazard.crowdingPerAnimal, day)
  const isGrowing = crowding > 1 && crowding < HIGHEST_CROWDING && risk < HIGHEST_RISK_PER_DAY
  return isGrowing ? risk + onDay(hazard.baseRisk, day) * crowding : risk
}

/** Whether L is a straight line for up to `count` animals, through a span of days. */
export function isProportional(
  hazard: ClutchHazard,
  span: { from: number; days: number },
  count: number,
): boolean {
  for (let day = span.from; day < span.from + span.days; day += 1)
    if (count * onDay(hazard.crowdingPerAnimal, day) > 1) return false
  return true
}

/** Losses over a span of days if nobody is moved, and their derivative by the number of animals. O(days). */
export function lossOfDays(
  hazard: ClutchHazard,
  span: { from: number; days: number },
  count: number,
): { loss: number; slope: number } {
  let left = count
  let leftPerAnimal = 1
  for (let day = span.from; day < span.from + span.days; day += 1) {
    leftPerAnimal *= 1 - marginalLossOfDay(hazard, day, left)
    left -= lossOfDay(hazard, day, left)
  }
  return { loss: count - left, slope: 1 - leftPerAnimal }
}

/**
 * Straight lines that lie under the loss for 0 … count animals and touch it where they can. Six are enough:
 * the plan's loss is worked out exactly afterwards, the lines only guide it and bound it from below.
 * A slope above 1 would let a program save animals by losing them, and is cut to 1.
 */
export function lossTangents(
  hazard: ClutchHazard,
  span: { from: number; days: number },
  count: number,
): Tangent[] {
  const step = Math.max(1, Math.floor(count / SAMPLES))
  const samples = Array.from({ length: Math.floor(count / step) + 1 }, (_, place) => ({
    number: place * step,
    loss: lossOfDays(hazard, span, place * step).loss,
  }))
  const places = [...new Set(TANGENT_SHARES.map((share) => Math.max(1, Math.round(share * count))))]
  const lines = places.flatMap((place) => supportingLine(hazard, { span, place, samples }))
  return lines.filter(
    ({ slope }, place) => !lines.slice(0, place).some((line) => Math.abs(line.slope - slope) < 1e-9),
  )
}

type Sample = { number: number; loss: number }

/** The tangent at a place, turned as far as it takes to lie under all samples; none inside a hollow. */
function supportingLine(
  hazard: ClutchHazard,
  at: { span: { from: number; days: number }; place: number; samples: Sample[] },
): Tangent[] {
  const here = lossOfDays(hazard, at.span, at.place)
  let steepest = 1
  let flattest = 0
  for (const { number, loss } of at.samples) {
    if (number > at.place) steepest = Math.min(steepest, (loss - here.loss) / (number - at.place))
    if (number < at.place) flattest = Math.max(flattest, (here.loss - loss) / (at.place - number))
  }
  if (flattest > steepest + 1e-9) return []
  const slope = Math.max(Math.min(here.slope, steepest), Math.min(flattest, steepest))
  return [{ slope, offset: here.loss - slope * at.place }]
}
