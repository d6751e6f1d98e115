import { hatchChances } from '../hatch/forecast'
import { type Occupancy, playEntering } from './course-play'
import { clutchKnowledge, clutchParameters } from './grouping'
import { GUESSES } from './guess'
import type { RoomEggCase, RoomSpecies, RoomZone } from './input'
import {
  addInto,
  adultStages,
  emptyOccupancy,
  type PartGrid,
  playableCourses,
  playGrown,
  spreads,
  sumStages,
} from './part-play'

/** Egg cases of one species in one zone, put together. */
export type EggPart = {
  key: string
  species: RoomSpecies
  zone: RoomZone
  /** By step: expected nymphs that hatch, and expected square of the nymphs of one case. */
  hatching: Float64Array
  hatchingSquares: Float64Array
  /** Cases, counted by what is expected of them. */
  cases: number
}

export type PlayedEggs = { means: Occupancy[]; ownVariance: Occupancy }

/** Chances are worked out for every other day; in between they grow evenly. */
const STRIDE_DAYS = 2

/** Adds up egg cases by the day they may hatch on. O(egg cases × days). */
export function eggPart(
  of: { key: string; species: RoomSpecies; zone: RoomZone; cases: readonly RoomEggCase[] },
  time: { today: string; days: number; steps: number; stepOf: (days: number) => number },
): EggPart {
  const hatching = new Float64Array(time.steps)
  const hatchingSquares = new Float64Array(time.steps)
  let [sum, squares] = [0, 0]
  for (const { hatch, nymphs, history } of of.cases) {
    const { zone, species } = of
    const chances = hatchChances({
      ...hatch,
      today: time.today,
      profile: species.profile,
      history: history ?? zone.history,
      futureTemperatureSdC: zone.futureTemperatureSdC,
    })
    if (!chances) continue
    const expected = chances.stillHatches * nymphs.mean
    const expectedSquare = chances.stillHatches * (nymphs.variance + nymphs.mean ** 2)
    sum += expected
    squares += expected ** 2
    let before = 0
    for (let day = STRIDE_DAYS; day <= time.days + STRIDE_DAYS && before < 0.9999; day += STRIDE_DAYS) {
      const now = chances.withinDays(day)
      const step = Math.floor(time.stepOf(day - STRIDE_DAYS / 2))
      if (step < time.steps) {
        hatching[step]! += (now - before) * expected
        hatchingSquares[step]! += (now - before) * expectedSquare
      }
      before = now
    }
  }
  return {
    key: of.key,
    species: of.species,
    zone: of.zone,
    hatching,
    hatchingSquares,
    cases: squares > 0 ? sum ** 2 / squares : 1,
  }
}

/**
 * Nymphs still to hatch. An egg case hatches as a whole or not at all, on one day, so its animals move
 * together: the variance is that of a compound, E[N²] − E[N]² per case.
 */
export function playEggs(part: EggPart, grid: PartGrid): PlayedEggs {
  const { species, zone } = part
  const parameters = clutchParameters(species, null)
  const { logShift, clutchVariance, speciesVariance } = clutchKnowledge(parameters)
  const sd = spreads({ clutchShare: 1 / part.cases, clutchVariance, speciesVariance, zone }, parameters, grid)
  const who = { species, sex: 'unsexed' as const, beginnings: [], groups: [] }
  const ownVariance = emptyOccupancy(grid.steps)
  const adults = adultStages(part)
  const first = new Float64Array(grid.steps)
  first[0] = 1
  const means = GUESSES.map((guess) => {
    const one = emptyOccupancy(grid.steps)
    const grown = { male: new Float64Array(grid.steps), female: new Float64Array(grid.steps) }
    // How animals differ for life widens each stage a little; the middle stands for it here.
    for (const { course, stages } of playableCourses(who, {
      parameters,
      logShift: logShift + guess.z * sd.together,
    })) {
      const { occupancy, leaving } = playEntering({ stages, steps: grid.steps }, first)
      occupancy.forEach((stage, moults) => {
        addInto(one[moults]!, stage, course.weight)
      })
      addInto(grown[course.sex], leaving, course.weight)
    }
    playGrown(grown, { adults, steps: grid.steps, played: one })
    sumStages(one)
    return one.map((chances, stage) => {
      const mean = convolve(part.hatching, chances)
      const squares = convolve(
        part.hatchingSquares,
        chances.map((chance) => chance * chance),
      )
      const alone = convolve(
        part.hatching,
        chances.map((chance) => chance * (1 - Math.min(1, chance))),
      )
      const variance = ownVariance[stage]!
      for (let step = 0; step < grid.steps; step += 1)
        variance[step]! +=
          guess.weight * Math.max(0, squares[step]! + alone[step]! - mean[step]! ** 2 / part.cases)
      return mean
    })
  })
  return { means, ownVariance }
}

function convolve(entering: Float64Array, response: Float64Array): Float64Array {
  const total = new Float64Array(entering.length)
  for (let from = 0; from < entering.length; from += 1) {
    const count = entering[from]!
    if (count === 0) continue
    for (let step = from; step < total.length; step += 1) total[step]! += count * response[step - from]!
  }
  return total
}
