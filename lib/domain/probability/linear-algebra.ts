/** Small dense symmetric positive definite systems, row by row in one array of n × n. O(n³). */
export type SquareMatrix = Float64Array

/** Lower Cholesky factor; throws RangeError where the matrix is not positive definite. */
export function choleskyFactor(matrix: SquareMatrix, size: number): SquareMatrix {
  const factor = new Float64Array(size * size)
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix[row * size + column]!
      for (let k = 0; k < column; k += 1) sum -= factor[row * size + k]! * factor[column * size + k]!
      if (row !== column) factor[row * size + column] = sum / factor[column * size + column]!
      else if (sum > 0) factor[row * size + row] = Math.sqrt(sum)
      else throw new RangeError('not positive definite')
    }
  }
  return factor
}

/** x with factor · factorᵀ · x = right. */
export function solveFactored(factor: SquareMatrix, right: Float64Array): Float64Array {
  const size = right.length
  const solution = Float64Array.from(right)
  for (let row = 0; row < size; row += 1) {
    for (let k = 0; k < row; k += 1) solution[row]! -= factor[row * size + k]! * solution[k]!
    solution[row]! /= factor[row * size + row]!
  }
  for (let row = size - 1; row >= 0; row -= 1) {
    for (let k = row + 1; k < size; k += 1) solution[row]! -= factor[k * size + row]! * solution[k]!
    solution[row]! /= factor[row * size + row]!
  }
  return solution
}

/** The inverse of the factored matrix. */
export function inverseOfFactored(factor: SquareMatrix, size: number): SquareMatrix {
  const inverse = new Float64Array(size * size)
  for (let column = 0; column < size; column += 1) {
    const unit = new Float64Array(size)
    unit[column] = 1
    const solved = solveFactored(factor, unit)
    for (let row = 0; row < size; row += 1) inverse[row * size + column] = solved[row]!
  }
  return inverse
}

/** Logarithm of the determinant of the factored matrix. */
export function logDeterminant(factor: SquareMatrix, size: number): number {
  let sum = 0
  for (let row = 0; row < size; row += 1) sum += 2 * Math.log(factor[row * size + row]!)
  return sum
}
