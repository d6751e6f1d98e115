import { describe, expect, it } from 'vitest'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'
import { CATALOGUE_RULES } from './catalogue-rules'

const database = requireDatabase()

/** What a rule lists, after something was done that is taken back again. */
function listOffences(sql: string, planted = ''): Promise<string[]> {
  return withClient(database.urls.admin, async (client) => {
    await client.query('begin')
    if (planted) await client.query(`set local role oothecary_owner; ${planted}`)
    const { rows } = await client.query({ text: sql, rowMode: 'array' })
    await client.query('rollback')
    return rows.map(([name]) => String(name)).sort()
  })
}

describe.each(CATALOGUE_RULES)('$sentence', ({ offences, exempt, planted }) => {
  it('with these exceptions, each of which is still one', async () => {
    expect(await listOffences(offences)).toEqual([...exempt].sort())
  })

  it.each(planted)('and notices: %s', async (sql) => {
    const noticed = await listOffences(offences, sql)
    expect(noticed.filter((name) => !exempt.includes(name))).not.toEqual([])
  })
})
