/**
 * Linear and mixed-integer programs as plain values: minimise cost · x with row and column bounds.
 *
 * A program is *built* and *read back* in the core and solved elsewhere, so it is only numbers: rows are kept
 * compressed (row i holds the entries rowStarts[i] … rowStarts[i + 1] − 1) and can be posted to a thread as
 * they are. Infinity stands for "no bound".
 */
export type LinearProgram = {
  columnCost: Float64Array
  columnLower: Float64Array
  columnUpper: Float64Array
  /** 1 where a column must be a whole number; absent where none must. */
  columnIsWhole?: Uint8Array
  rowLower: Float64Array
  rowUpper: Float64Array
  rowStarts: Int32Array
  entryColumns: Int32Array
  entryValues: Float64Array
}

/**
 * What a solver says. A time limit is an answer: with the best values found so far, or none. Duals belong to
 * an optimal program without whole columns: the change of the cost per unit of a bound.
 */
export type ProgramAnswer =
  | {
      status: 'optimal'
      cost: number
      values: Float64Array
      rowDuals: Float64Array
      columnDuals: Float64Array
    }
  | { status: 'timed-out'; cost: number; values: Float64Array | null }
  | { status: 'infeasible' }
  | { status: 'unbounded' }

export type Entry = readonly [column: number, value: number]

export type ColumnBounds = { cost?: number; lower?: number; upper?: number; isWhole?: boolean }

export type RowBounds = { lower?: number; upper?: number }

export type ProgramBuilder = {
  /** Returns the column's number. Without bounds: 0 to infinity. */
  addColumn(bounds?: ColumnBounds): number
  addCost(column: number, cost: number): void
  /** Returns the row's number. A bound left out is none. */
  addRow(entries: readonly Entry[], bounds: RowBounds): number
  build(): LinearProgram
}

/** Collects a program column by column and row by row. O(entries). */
export function programBuilder(): ProgramBuilder {
  const columns: Required<ColumnBounds>[] = []
  const rows: Required<RowBounds>[] = []
  const starts = [0]
  const entryColumns: number[] = []
  const entryValues: number[] = []
  return {
    addColumn: ({ cost = 0, lower = 0, upper = Infinity, isWhole = false } = {}) =>
      columns.push({ cost, lower, upper, isWhole }) - 1,
    addCost: (column, cost) => {
      columns[column]!.cost += cost
    },
    addRow: (entries, { lower = -Infinity, upper = Infinity }) => {
      for (const [column, value] of entries) {
        if (value === 0) continue
        entryColumns.push(column)
        entryValues.push(value)
      }
      starts.push(entryColumns.length)
      return rows.push({ lower, upper }) - 1
    },
    build: () => ({
      columnCost: Float64Array.from(columns, ({ cost }) => cost),
      columnLower: Float64Array.from(columns, ({ lower }) => lower),
      columnUpper: Float64Array.from(columns, ({ upper }) => upper),
      ...(columns.some(({ isWhole }) => isWhole)
        ? { columnIsWhole: Uint8Array.from(columns, ({ isWhole }) => (isWhole ? 1 : 0)) }
        : {}),
      rowLower: Float64Array.from(rows, ({ lower }) => lower),
      rowUpper: Float64Array.from(rows, ({ upper }) => upper),
      rowStarts: Int32Array.from(starts),
      entryColumns: Int32Array.from(entryColumns),
      entryValues: Float64Array.from(entryValues),
    }),
  }
}
