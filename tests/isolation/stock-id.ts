import type { Stock } from './stock'

/** The id of the row that stands in a table. */
export const idOf = ({ rows }: Stock, table: string) => String(rows.get(table)?.id)
