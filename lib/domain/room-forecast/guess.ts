/**
 * Guesses at what moves all animals of a species together, in standard deviations: an even rule for the normal
 * distribution (weights sum to 1, mean 0, variance 1 to within 1 %). Even, so that a stage that most animals
 * pass on the same days does not fall between two guesses.
 */
const SPACING = 0.8
const TO_EACH_SIDE = 3

export const GUESSES: readonly { z: number; weight: number }[] = evenRule()

function evenRule(): { z: number; weight: number }[] {
  const nodes = Array.from({ length: 2 * TO_EACH_SIDE + 1 }, (_, index) => SPACING * (index - TO_EACH_SIDE))
  const densities = nodes.map((z) => Math.exp(-0.5 * z * z))
  const total = densities.reduce((sum, density) => sum + density, 0)
  return nodes.map((z, index) => ({ z, weight: densities[index]! / total }))
}
