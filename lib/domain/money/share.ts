/**
 * A whole sum dealt out in proportion to weights, each share whole and all of them together the sum. What rounding
 * leaves goes to those who lost most by it (largest remainder), the earlier first. Weights that are all nothing share
 * nothing out unless the sum is nothing too. O(n log n).
 */
export function shareOut(sum: number, weights: readonly number[]): number[] {
  const whole = weights.reduce((total, weight) => total + weight, 0)
  if (whole === 0) return weights.map(() => 0)
  const exact = weights.map((weight) => (sum * weight) / whole)
  const shares = exact.map(Math.floor)
  const left = sum - shares.reduce((total, share) => total + share, 0)
  const byLoss = exact
    .map((share, index) => ({ index, loss: share - Math.floor(share) }))
    .sort((a, b) => b.loss - a.loss || a.index - b.index)
  for (const { index } of byLoss.slice(0, left)) shares[index] = (shares[index] ?? 0) + 1
  return shares
}

/** `part` of `of` of a sum, rounded half up; what several parts come to is the same however they are cut. */
export function partOf(sum: number, { part, of }: { part: number; of: number }): number {
  return Math.floor((2 * sum * part + of) / (2 * of))
}
