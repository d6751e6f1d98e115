import { z } from 'zod'

/** How every list of the API answers: a page of things, and where the next page begins. */
export function listAnswer<T extends z.ZodType>(item: T) {
  return z.strictObject({ items: z.array(item), nextCursor: z.string().nullable() })
}

/** The parameters of a list that comes in pages. */
export const pageQuery = z.strictObject({
  limit: z.coerce.number().int().min(1).max(200).default(50),
  cursor: z.uuid({ error: 'Give nextCursor back as it was.' }).optional(),
})

/** A whole list as one page, for what a workspace has only a few dozen of. */
export function onePage<T>(items: T[]): { items: T[]; nextCursor: null } {
  return { items, nextCursor: null }
}

/**
 * One page of rows that were asked for with one more than its limit: whether that one is there says if there are
 * more, without counting. The next page begins after the last id of this one.
 */
export function pageOf<Row extends { id: string }, T>(
  rows: readonly Row[],
  limit: number,
  present: (row: Row) => T,
): { items: T[]; nextCursor: string | null } {
  const shown = rows.slice(0, limit)
  return { items: shown.map(present), nextCursor: rows.length > limit ? (shown.at(-1)?.id ?? null) : null }
}
