import { describe, expect, it } from 'vitest'
import { withClient } from '@/tests/support/clone'
import { requireDatabase } from '@/tests/support/database'

const database = requireDatabase()
const NOBODY = '01a00000-0000-7000-8000-000000000000'

describe('the conditions that lists are filtered by', () => {
  // Below row-level security only operators that leak nothing reach an index; an enum's equality does not.
  it.each([
    [
      'an animal by its label',
      { table: 'individual', condition: `label = 'A1'`, index: 'individual_label_key', used: /label = / },
    ],
    [
      'animals by the beginning of a label',
      {
        table: 'individual',
        condition: `starts_with(label, 'A1')`,
        index: 'individual_label_key',
        used: /label >= /,
      },
    ],
    [
      'animals of a clutch',
      {
        table: 'individual',
        condition: `clutch_id = '${NOBODY}'`,
        index: 'individual_clutch_idx',
        used: /clutch_id = /,
      },
    ],
    [
      'animals at home',
      {
        table: 'individual',
        condition: `whereabouts = 'single'`,
        index: 'individual_at_home_idx',
        used: /workspace_id = /,
      },
    ],
    [
      'the animals in a zone',
      {
        table: 'housing',
        condition: `zone_id = '${NOBODY}' and until_on is null`,
        index: 'housing_zone_idx',
        used: /zone_id = /,
      },
    ],
    [
      'the moults of an animal',
      {
        table: 'moult',
        condition: `individual_id = '${NOBODY}'`,
        index: 'moult_individual_idx',
        used: /individual_id = /,
      },
    ],
    [
      'the ledger of a clutch',
      {
        table: 'head_count_entry',
        condition: `clutch_id = '${NOBODY}'`,
        index: 'head_count_entry_clutch_idx',
        used: /clutch_id = /,
      },
    ],
    [
      'an egg case by its label',
      { table: 'egg_case', condition: `label = 'E-1'`, index: 'egg_case_label_key', used: /label = / },
    ],
    [
      'feedings since a day',
      {
        table: 'feeding',
        condition: `individual_id = '${NOBODY}' and "on" > '2027-01-01'`,
        index: 'feeding_individual_idx',
        used: /"on" > /,
      },
    ],
    [
      'a receipt',
      {
        table: 'sale',
        condition: "series = '' and receipt_number = 7",
        index: 'sale_receipt_number_key',
        used: /receipt_number = /,
      },
    ],
  ])('reach the index for %s', async (_what, { table, condition, index, used }) => {
    const plan = await withClient(database.urls.app, async (client) => {
      await client.query('begin')
      await client.query(`select set_config('app.workspace_id', gen_random_uuid()::text, true)`)
      await client.query('set local enable_seqscan = off')
      const asked = await client.query(
        `explain (costs off) select * from ${table} where workspace_id = app.workspace() and ${condition}`,
      )
      return asked.rows.map((row) => row['QUERY PLAN']).join('\n')
    })
    expect(plan).toContain(index)
    expect(
      plan
        .split('\n')
        .filter((line) => line.includes('Index Cond'))
        .join(),
    ).toMatch(used)
  })
})
