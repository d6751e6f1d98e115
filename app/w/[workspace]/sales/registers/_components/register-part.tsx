import type { ReactNode } from 'react'
import { type Column, DataTable } from '@/components/ui/data-table'
import { LinkButton } from '@/components/ui/link-button'

type Props<Row> = {
  title: string
  caption: string
  /** where it stands as a file */
  address: string
  /** said where there is no row */
  empty: string
  columns: readonly Column<Row>[]
  rows: readonly Row[]
  rowKey: (row: Row) => string
  children?: ReactNode
}

/** One register: its table, and the same as a file. */
export function RegisterPart<Row>({ title, address, empty, children, ...table }: Props<Row>) {
  return (
    <section className="mt-10">
      <div className="mb-2 flex flex-wrap items-end justify-between gap-3">
        <h2>{title}</h2>
        <LinkButton href={address} prefetch={false} kind="quiet" className="no-print">
          As CSV
        </LinkButton>
      </div>
      {children}
      {table.rows.length === 0 ? <p className="text-soft">{empty}</p> : <DataTable {...table} />}
    </section>
  )
}

/** Columns of figures, by their heads. */
export function figureColumns<Row>(
  figures: readonly (readonly [head: string, of: (row: Row) => ReactNode])[],
): Column<Row>[] {
  return figures.map(([head, cell]) => ({ head, isFigure: true, cell }))
}
