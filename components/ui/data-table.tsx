// biome-ignore-all lint/a11y/noRedundantRoles: `display: block` on a phone takes the built-in roles away
import { clsx } from 'clsx'
import type { ReactNode } from 'react'

export type Column<Row> = {
  head: string
  cell: (row: Row) => ReactNode
  /** Figures stand right, under each other. */
  isFigure?: boolean
  /** The cell that names the row. Exactly one column. */
  isRowHead?: boolean
}

type Props<Row> = {
  /** Read by a screen reader before the table; shown only with `isCaptionShown`. */
  caption: string
  isCaptionShown?: boolean
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  rowKey: (row: Row) => string
}

/**
 * A table on a desk; on a phone each row becomes a short entry with its own words, since half a table that
 * scrolls sideways hides what was looked for. The roles are written out because changing `display` drops them.
 */
export function DataTable<Row>({ caption, isCaptionShown = false, columns, rows, rowKey }: Props<Row>) {
  return (
    <table role="table" className="block w-full text-start desk:table print:table">
      <caption className={isCaptionShown ? 'mb-2 block text-start text-small text-soft' : 'sr-only'}>
        {caption}
      </caption>
      <thead role="rowgroup" className="sr-only desk:not-sr-only desk:table-header-group print:not-sr-only">
        <tr role="row" className="border-ink border-b">
          {columns.map((column) => (
            <th
              key={column.head}
              role="columnheader"
              scope="col"
              className={clsx(
                'py-2 pe-4 align-bottom font-semibold text-fine-print text-soft last:pe-0',
                column.isFigure ? 'text-end' : 'text-start',
              )}
            >
              {column.head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody
        role="rowgroup"
        className="block divide-y divide-line desk:table-row-group print:table-row-group"
      >
        {rows.map((row) => (
          <tr key={rowKey(row)} role="row" className="block py-3 desk:table-row print:table-row">
            {columns.map((column) => (
              <Cell key={column.head} column={column} row={row} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  )
}

function Cell<Row>({ column, row }: { column: Column<Row>; row: Row }) {
  const style = clsx(
    'flex items-baseline gap-3 py-0.5 text-start desk:table-cell desk:py-2.5 desk:pe-4 desk:align-baseline desk:last:pe-0 print:table-cell',
    column.isFigure && 'desk:text-end',
  )
  const value = column.cell(row)
  if (column.isRowHead) {
    return (
      <th scope="row" role="rowheader" className={clsx(style, 'font-semibold')}>
        <span className="min-w-0">{value}</span>
      </th>
    )
  }
  return (
    <td role="cell" className={style}>
      <span className="w-28 shrink-0 text-fine-print text-soft desk:hidden print:hidden" aria-hidden="true">
        {column.head}
      </span>
      <span className="min-w-0">{value}</span>
    </td>
  )
}
