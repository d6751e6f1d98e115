import { choleskyFactor, solveFactored } from '../probability/linear-algebra'

/** Of a regression over few scenarios so much is their noise: it is held back by this share of a standard deviation. */
const HELD_BACK = 0.05

/**
 * What can be told of a value from what has been seen, by scenario: least squares over the scenarios, held back
 * (ridge regression on standardized columns; Hoerl & Kennard, Technometrics 12, 1970). What is alike in all scenarios
 * tells nothing. O(scenarios × seen²).
 */
export function foretell(values: Float64Array, seen: readonly Float64Array[]): Float64Array {
  const count = values.length
  const columns = seen.map(standardize).filter((column) => column !== null)
  const mean = values.reduce((sum, each) => sum + each, 0) / count
  const size = columns.length
  if (size === 0) return values.map(() => mean)
  const matrix = new Float64Array(size * size)
  columns.forEach((column, row) => {
    for (let other = 0; other < size; other += 1)
      matrix[row * size + other] = dot(column, columns[other]!) + (row === other ? HELD_BACK * count : 0)
  })
  const offMean = values.map((each) => each - mean)
  const right = Float64Array.from(columns, (column) => dot(column, offMean))
  const weights = solveFactored(choleskyFactor(matrix, size), right)
  return values.map((_, scenario) =>
    columns.reduce((sum, column, place) => sum + weights[place]! * column[scenario]!, mean),
  )
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let index = 0; index < a.length; index += 1) sum += a[index]! * b[index]!
  return sum
}

function standardize(values: Float64Array): Float64Array | null {
  const mean = values.reduce((sum, each) => sum + each, 0) / values.length
  const sd = Math.sqrt(values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / values.length)
  return sd > 1e-9 * Math.max(1, Math.abs(mean)) ? values.map((each) => (each - mean) / sd) : null
}
