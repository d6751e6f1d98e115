import pg from 'pg'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { requireDatabase } from '@/tests/support/database'
import { type Row, type Stock, stockWorkspace } from './stock'

const database = requireDatabase()

/** Something false for each rule, as a change of a true record: `table, what is false`. */
const FALSE_RECORDS: Record<string, [table: string, change: string]> = {
  air_day_range: ['air_day', 'high_c = low_c - 1'],
  customer_order_arrives_after: [
    'customer_order',
    'left_on = null, sale_id = null, claim_end = null, claim_end_on = null',
  ],
  customer_order_claim_complete: ['customer_order', 'claim_end_on = null'],
  customer_order_days: ['customer_order', 'left_on = ordered_on - 1'],
  customer_order_ends_once: ['customer_order', 'cancelled_on = ordered_on'],
  customer_order_extent: ['customer_order', 'claim_hours = 0'],
  customer_order_left_sold: ['customer_order', 'sale_id = null'],
  dispatch_rules_range: ['dispatch_rules', `weekdays = '{8}'`],
  order_animal_days: ['order_animal', 'released_on = chosen_on - 1'],
  order_payment_amount: ['order_payment', 'amount_minor = 0'],
  order_payment_returned: ['order_payment', 'returned_minor = 1'],
  order_payment_reversal: ['order_payment', 'reverses = 2'],
  order_stock_line_extent: ['order_stock_line', 'quantity = 0'],
  order_stock_line_subject: ['order_stock_line', `kind = 'lot'`],
  order_line_extent: ['order_line', 'count = -1'],
  order_line_stage: ['order_line', 'from_moults = 3, until_moults = 2'],
  bench_day_minutes: ['bench_day', 'minutes = -1'],
  bench_hours_week: ['bench_hours', `minutes_by_weekday = '{60,60}'`],
  buyer_country: ['buyer', `country = 'de'`],
  buyer_erasure: ['buyer', `erasure_asked_on = '2026-03-02', erased_on = '2026-03-01'`],
  calendar_date_days: ['calendar_date', 'ends_on = starts_on - 1'],
  care_profile_number: ['care_profile', 'number = 0'],
  care_sheet_lot_animals: ['care_sheet', `individual_id = null, egg_case_id = id, lot_id = id`],
  care_sheet_note_length: ['care_sheet', `note = repeat('x', 4001)`],
  care_sheet_subject: ['care_sheet', 'individual_id = null, lot_id = null'],
  clearance_says_something: ['clearance', `codes = '{}'`],
  clutch_hatched_range: ['clutch', 'hatched_low = 9, hatched_high = 3'],
  clutch_housing_ends_after_start: ['clutch_housing', `until_on = from_on - 1`],
  clutch_observation_number: ['clutch_observation', 'number = 0'],
  clutch_observation_hanging: ['clutch_observation', 'hanging = -1'],
  clutch_observation_says_something: ['clutch_observation', 'moulted = null'],
  clutch_housing_colony_stages: ['clutch_housing', 'least_moults = 4'],
  colony_closes_after_opening: ['colony', 'closed_on = opened_on - 1'],
  colony_count_range: ['colony_count', 'animals = -1'],
  container_kind_measures: ['container_kind', 'inner_height_mm = 0'],
  container_kind_order_count: ['container_kind_order', 'count = 0'],
  culture_days: ['culture', 'mites_on = started_on - 1'],
  culture_end_complete: ['culture', `ended_on = started_on + 9`],
  culture_starters: ['culture', 'starters_from = id'],
  culture_starters_range: ['culture', 'starters = 0'],
  day_mail_hour: ['day_mail', 'hour = 24'],
  egg_case_end_complete: ['egg_case', `"end" = 'spent', ended_on = null`],
  egg_case_has_a_date: ['egg_case', 'laid_on = null'],
  egg_case_laid_range: ['egg_case', `laid_from = '2026-02-01', laid_until = '2026-01-01'`],
  egg_case_rest_order: ['egg_case', `rest_start_on = '2026-02-01', rest_ended_on = '2026-01-01'`],
  egg_case_stay_ends_after_start: ['egg_case_stay', 'until_on = from_on - 1'],
  food_limits_range: ['food_limits', 'service_level = 1'],
  food_plan_extent: ['food_plan', 'weeks = 27'],
  harvest_range: ['harvest', 'low = count + 1'],
  growth_fit_complete: ['growth_fit', 'content = null'],
  growth_fit_failure: ['growth_fit', "failure = 'why'"],
  hatch_range: ['hatch', 'low = 9, likely = 3'],
  head_count_sums: ['head_count', 'hatched = hatched + 1'],
  head_count_hatched_not_negative: ['head_count', 'hatched = -1, unaccounted = unaccounted - hatched - 1'],
  head_count_together_not_negative: ['head_count', 'together = -1, unaccounted = unaccounted + together + 1'],
  head_count_single_not_negative: ['head_count', 'single = -1, unaccounted = unaccounted + single + 1'],
  head_count_sold_not_negative: ['head_count', 'sold = -1, unaccounted = unaccounted + sold + 1'],
  head_count_given_away_not_negative: [
    'head_count',
    'given_away = -1, unaccounted = unaccounted + given_away + 1',
  ],
  head_count_dead_not_negative: ['head_count', 'dead = -1, unaccounted = unaccounted + dead + 1'],
  head_count_escaped_not_negative: ['head_count', 'escaped = -1, unaccounted = unaccounted + escaped + 1'],
  head_count_entry_counts_someone: ['head_count_entry', 'count = 0, individual_id = null'],
  head_count_entry_has_subject: ['head_count_entry', 'clutch_id = null, individual_id = null'],
  head_count_entry_moves: ['head_count_entry', '"to" = "from"'],
  head_count_entry_names_one: ['head_count_entry', 'count = 2'],
  housing_ends_after_start: ['housing', 'until_on = from_on - 1'],
  individual_baseline: ['individual', `baseline_last_moult_on = baseline_on + 1`],
  individual_on_tray: ['individual', 'tray_id = uuidv7(), clutch_id = null'],
  individual_sex_certainty: ['individual', `sex = 'female', sex_certainty = 'none'`],
  look_signs_without_moult: [
    'look',
    'wing_buds = true, moult_id = (select m.id from moult m where m.workspace_id = look.workspace_id limit 1)',
  ],
  moult_number_positive: ['moult', 'number = 0'],
  moult_seen_between: ['moult', 'seen_from = "on" + 1'],
  other_mouth_days: ['other_mouth', 'until_on = from_on - 1'],
  other_mouth_items: ['other_mouth', `weekdays = '{8}'`],
  paper_subject: ['paper', 'individual_id = null, sale_id = null'],
  past_window_month_first_day: ['past_window_month', "month_on = '2026-03-02'"],
  past_window_month_list: ['past_window_month', "windows = '{}'"],
  past_window_month_seen: ['past_window_month', 'instars_seen = -1'],
  photo_content_size: ['photo_content', `small = ''`],
  photo_size: ['photo', 'width_px = 0'],
  prey_count_count: ['prey_count', 'count = -1'],
  prey_departure_count: ['prey_departure', 'count = 0'],
  prey_line_version_number: ['prey_line_version', 'number = 0'],
  prey_order_days: ['prey_order', 'due_on = ordered_on - 1'],
  prey_order_packs: ['prey_order', 'packs = 0'],
  prey_order_settled_once: ['prey_order', 'arrived_on = due_on, cancelled_on = due_on'],
  public_link_subject: ['public_link', 'for_sale = false'],
  sheet_batch_counts: ['sheet_batch', 'done = total + 1'],
  price_entry_price: ['price_entry', 'price_minor = -1'],
  price_entry_stage: ['price_entry', 'adult = true'],
  reading_batch_extent: ['reading_batch', "until_at = from_at - interval '1 hour'"],
  reading_range: ['reading', 'temperature_c = 78'],
  reservation_days: ['reservation', 'until_on = made_on - 1'],
  reservation_end_complete: ['reservation', `"end" = null`],
  sale_line_amount: ['sale_line', 'price_minor = price_minor + 1'],
  sale_line_price: ['sale_line', 'price_minor = -1, discount_minor = unit_price_minor + 1'],
  sale_line_returned: ['sale_line', 'returned = quantity + 1'],
  sale_line_sexes: ['sale_line', 'males = 1'],
  sale_line_subject: ['sale_line', 'individual_id = null'],
  sale_line_tax: ['sale_line', 'tax_basis_points = 10001'],
  sale_payment_amount: ['sale_payment', 'given_minor = amount_minor - 1'],
  sale_return_line_amount: ['sale_return_line', 'tax_minor = refund_minor + 1'],
  sale_return_refund: ['sale_return', 'refund_minor = -1'],
  separation_planned: ['separation', 'planned = 0'],
  hand_over_accepted: ['hand_over', `accepted_on = offered_on`],
  hand_over_days: ['hand_over', 'withdrawn_on = offered_on - 1'],
  hand_over_ends_once: [
    'hand_over',
    `withdrawn_on = offered_on, accepted_on = offered_on, claim = id, content = '[]'`,
  ],
  taken_over_number: ['taken_over', 'number = -1'],
  sale_series: ['sale', `series = 's-1'`],
  show_box_item_extent: ['show_box_item', 'packed = -1'],
  show_box_item_subject: ['show_box_item', `kind = 'lot'`],
  show_box_animal_ended: ['show_box_animal', `"end" = 'home'`],
  show_box_days: ['show_box', 'return_on = pack_on - 1'],
  show_box_part_extent: ['show_box_part', 'number = 0'],
  show_box_part_taken: ['show_box_part', 'device = null'],
  tax_rate_range: ['tax_rate', 'basis_points = 10001'],
  till_retention: ['till', 'retention_years = 31'],
  wish_count: ['wish', 'count = 0'],
  wish_end_complete: ['wish', 'ended_on = made_on'],
  wish_stage: ['wish', 'adult = true'],
  zone_incident_extent: ['zone_incident', 'extreme_c = null'],
  zone_incident_order: ['zone_incident', `ended_at = began_at - interval '1 hour'`],
  zone_watch_limits: ['zone_watch', 'low_c = 31'],
  zone_watch_minutes: ['zone_watch', 'silence_minutes = 1'],
  zone_day_extent: ['zone_day', 'max_c = min_c - 1'],
  zone_set_point_range: ['zone_set_point', 'day_c = 61'],
}

/** A second record beside a true one, for each rule that allows one at a time: the table and what differs. */
const SECOND_RECORDS: Record<string, [table: string, change: Row]> = {
  clutch_housing_one_place_per_clutch: ['clutch_housing', { id: 'new', from_on: '2026-03-01' }],
  clutch_housing_one_clutch_per_container: [
    'clutch_housing',
    { id: 'new', from_on: '2026-03-01', clutch_id: 'other' },
  ],
  egg_case_stay_one_place: ['egg_case_stay', { from_on: '2026-01-20' }],
  zone_incident_never_twice: ['zone_incident', { id: 'new', began_at: '2026-03-20T14:00:00Z' }],
  housing_one_place_per_animal: [
    'housing',
    { id: 'new', from_on: '2026-03-05', single: false, container_id: 'other' },
  ],
  housing_one_animal_per_single_container: [
    'housing',
    { id: 'new', from_on: '2026-03-05', individual_id: 'other' },
  ],
}

let client: pg.Client
let own: Stock

beforeAll(async () => {
  client = new pg.Client({ connectionString: database.urls.admin, options: '-c TimeZone=UTC' })
  await client.connect()
  own = await stockWorkspace(client, 'Own')
})
afterAll(() => client.end())

/** Which rule refuses a statement, asked past row-level security and taken back. Links are looked at last of all. */
async function findRefusal(sql: string, values: unknown[] = []): Promise<string | undefined> {
  await client.query('begin')
  try {
    await client.query(`select set_config('app.workspace_id', $1, true)`, [own.workspaceId])
    await client.query(sql, values)
    return undefined
  } catch (error) {
    if (error instanceof pg.DatabaseError) return error.constraint
    throw error
  } finally {
    await client.query('rollback')
  }
}

/** Those about people stand outside every workspace and are tried in tests/features/second-factor. */
async function listRules(kind: 'c' | 'x'): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>(
    `select conname as name from pg_constraint
     where contype = $1 and connamespace = 'public'::regnamespace and conrelid <> 'person'::regclass order by 1`,
    [kind],
  )
  return rows.map(({ name }) => name)
}

describe('what is plainly false', () => {
  it('has a rule, and each rule is tried here', async () => {
    expect(Object.keys(FALSE_RECORDS).sort()).toEqual(await listRules('c'))
    expect(Object.keys(SECOND_RECORDS).sort()).toEqual(await listRules('x'))
  })

  it.each(Object.entries(FALSE_RECORDS))(
    'is refused by %s, and the true record is not',
    async (rule, [table, change]) => {
      const where = `where workspace_id = '${own.workspaceId}' and ctid = (select min(ctid) from ${table})`
      const entry = table === 'head_count_entry' ? `where id = '${own.rows.get(table)?.id}'` : where
      expect(await findRefusal(`update ${table} set ${change} ${entry}`)).toBe(rule)
      expect(await findRefusal(`update ${table} set workspace_id = workspace_id ${entry}`)).toBeUndefined()
    },
  )

  it.each(Object.entries(SECOND_RECORDS))('is refused by %s', async (rule, [table, change]) => {
    const first = own.rows.get(table) ?? {}
    const patch = Object.entries(change).map(([name, value]) => [
      name,
      value === 'new' || value === 'other' ? crypto.randomUUID() : value,
    ])
    const second = { ...first, ...Object.fromEntries(patch) }
    const names = Object.keys(second).map((name) => `"${name}"`)
    const slots = names.map((_, index) => `$${index + 1}`)
    const refusal = await findRefusal(
      `insert into ${table} (${names}) values (${slots})`,
      Object.values(second),
    )
    expect(refusal).toBe(rule)
  })
})
