/** What a spreadsheet would run as a formula when it opens the file; and the mark itself, so that it can be undone. */
const FORMULA = /^[=+\-@\t\r']/

/**
 * One line of a table for a spreadsheet (RFC 4180). A text that would be run gets an apostrophe in front, as does one
 * that begins with an apostrophe: whoever takes one away from each has what was recorded.
 */
export function writeCsvLine(values: readonly unknown[]): string {
  return `${values.map(writeCell).join(',')}\r\n`
}

function writeCell(value: unknown): string {
  if (value === null || value === undefined) return ''
  if (typeof value === 'number' || typeof value === 'boolean') return String(value)
  const text = typeof value === 'string' ? value : JSON.stringify(value)
  return `"${(FORMULA.test(text) ? `'${text}` : text).replaceAll('"', '""')}"`
}
