/** A table in plain text: a heading, columns of equal width, numbers as they come. */
export function printTable(
  heading: string,
  columns: readonly string[],
  rows: readonly (readonly string[])[],
): void {
  const widths = columns.map((column, index) =>
    Math.max(column.length, ...rows.map((row) => (row[index] ?? '').length)),
  )
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, index) => (index === 0 ? cell.padEnd(widths[0]!) : cell.padStart(widths[index]!)))
      .join('  ')
  const text = [
    heading,
    line(columns),
    widths.map((width) => '-'.repeat(width)).join('  '),
    ...rows.map(line),
    '',
  ]
  process.stdout.write(`${text.join('\n')}\n`)
}
