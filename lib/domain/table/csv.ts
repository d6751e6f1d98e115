/**
 * Comma-separated text (RFC 4180) that a spreadsheet can be trusted with. A cell that a spreadsheet would run begins with
 * an apostrophe, and so does one that began with an apostrophe itself: taking one away gives back what stood there.
 */
const RUNS = /^[=+\-@\t\r']/

type Cell = string | number | null

export function writeCsv(head: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return `${[head, ...rows].map((row) => row.map(writeCell).join(',')).join('\r\n')}\r\n`
}

function writeCell(cell: Cell): string {
  if (cell === null) return ''
  // A figure is a figure, whatever its sign.
  if (typeof cell === 'number') return String(cell)
  const safe = RUNS.test(cell) ? `'${cell}` : cell
  return /[",\r\n;]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}

/** What a text cell held before it was made safe. */
export function readCell(cell: string): string {
  return cell.startsWith("'") ? cell.slice(1) : cell
}
