import type { SqlQuery } from '@prisma/driver-adapter-utils'

/** Each connection keeps every statement it was given a name for, so only so many get one. */
const MOST_NAMED = 400
const names = new Map<string, string>()

/**
 * A name for each text of a statement. A named statement is parsed once per connection, and the database goes over to
 * one plan for all values where that costs no more: the list of animals takes longer to plan than to run. Texts past
 * the limit (lists of another length each time) go unnamed, as all of them did before.
 */
export function nameStatement({ sql }: Pick<SqlQuery, 'sql'>): string {
  const known = names.get(sql)
  if (known !== undefined) return known
  if (names.size >= MOST_NAMED) return ''
  const made = `s${names.size}`
  names.set(sql, made)
  return made
}
