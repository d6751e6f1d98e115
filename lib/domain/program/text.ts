import type { LinearProgram } from './linear'

/**
 * A program in the LP text format that other solvers read, so that an answer can be checked by one of them.
 * Columns are x0, x1 …, rows r0, r1 …; numbers keep 17 digits.
 */
export function writeProgram(program: LinearProgram): string {
  const rows = Array.from(program.rowLower, (_, row) => writeRow(program, row)).filter((line) => line !== '')
  const whole = Array.from(program.columnIsWhole ?? [], (isWhole, column) => (isWhole ? `x${column}` : ''))
  const generals = whole.filter((name) => name !== '')
  return [
    'Minimize',
    ` cost: ${writeSum(Array.from(program.columnCost, (cost, column) => [column, cost]))}`,
    'Subject To',
    ...rows,
    'Bounds',
    ...Array.from(program.columnLower, (_, column) => writeBounds(program, column)),
    ...(generals.length > 0 ? ['Generals', ...generals.map((name) => ` ${name}`)] : []),
    'End',
    '',
  ].join('\n')
}

function writeRow(program: LinearProgram, row: number): string {
  const entries: [number, number][] = []
  for (let at = program.rowStarts[row]!; at < program.rowStarts[row + 1]!; at += 1)
    entries.push([program.entryColumns[at]!, program.entryValues[at]!])
  const lower = program.rowLower[row]!
  const upper = program.rowUpper[row]!
  const sum = writeSum(entries)
  if (lower === upper) return ` r${row}: ${sum} = ${lower}`
  const isBelow = Number.isFinite(upper)
  const isAbove = Number.isFinite(lower)
  const below = isBelow ? ` r${row}: ${sum} <= ${upper}` : ''
  const above = isAbove ? ` r${row}${isBelow ? 'b' : ''}: ${sum} >= ${lower}` : ''
  return isBelow && isAbove ? `${below}\n${above}` : below + above
}

/** Broken into lines, since some readers stop at 255 characters. */
function writeSum(entries: [number, number][]): string {
  const used = entries.filter(([, value]) => value !== 0)
  if (used.length === 0) return '0 x0'
  return used.map(([column, value]) => `${value < 0 ? '-' : '+'} ${Math.abs(value)} x${column}`).join('\n  ')
}

function writeBounds(program: LinearProgram, column: number): string {
  const lower = program.columnLower[column]!
  const upper = program.columnUpper[column]!
  const from = Number.isFinite(lower) ? String(lower) : '-inf'
  return Number.isFinite(upper) ? ` ${from} <= x${column} <= ${upper}` : ` x${column} >= ${from}`
}
