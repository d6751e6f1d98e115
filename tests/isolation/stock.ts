import { createHash, randomUUID } from 'node:crypto'
import type pg from 'pg'
import { DEFAULT_PROFILES } from '@/lib/domain/care-profile/defaults'
import { fitGrowth } from '@/lib/domain/growth/fit'
import { individualCode } from '@/lib/domain/label/code'
import { DEFAULT_PREY_LINES } from '@/lib/domain/prey/default-lines'
import { invitationToken } from '@/lib/platform/invitation-link'
import { placeReadings, placeWatch } from './climate-stock'
import { markProfile, placeColony } from './colony-stock'
import { placeReminders } from './reminder-stock'
import { placeBuyer, placeHandOver, placeHolds, placeOrderGoods, placeShowBox } from './sale-stock'
import { placeSheets } from './sheet-stock'
import { idOf } from './stock-id'

export type Row = Record<string, unknown>

/** One workspace with one row in every table, made past the service: ids and texts are its own. */
export type Stock = {
  workspaceId: string
  personId: string
  mark: string
  rows: Map<string, Row>
  gone: string
  /** an order on its way, and one that has arrived */
  sent: string
  arrived: string
}

/** Labels are made from the key of the workspace, so that two workspaces do not have the same ones. */
const labelKeyOf = (mark: string) => Number.parseInt(hash(mark).toString('hex').slice(0, 6), 16)

const hash = (text: string) => createHash('sha256').update(text).digest()

/**
 * Puts a row into every table for a new workspace. `mark` stands in every text, so that a text of one workspace that
 * turns up in another can be told.
 */
export async function stockWorkspace(client: pg.Client, mark: string): Promise<Stock> {
  const stock: Stock = {
    workspaceId: randomUUID(),
    personId: randomUUID(),
    mark,
    rows: new Map(),
    gone: '',
    sent: '',
    arrived: '',
  }
  const place = createPlacer(client, stock)
  // The audit trail is written as the owner of the tables, whom row-level security holds too.
  await client.query(`select set_config('app.workspace_id', $1, false)`, [stock.workspaceId])
  await placeWorkspace(place, stock)
  await placeGround(place, stock)
  await placeAnimals(place, stock)
  await placeGrowth(place, stock)
  await placeBuyer(place, stock)
  await placeSale(place, stock)
  await placeHolds(place, stock)
  await placeShowBox(place, stock)
  await placeHandOver(place, stock)
  await placeOrders(place, stock)
  await placeFood(place, stock)
  await client.query(`select set_config('app.workspace_id', '', false)`)
  return stock
}

export type Place = (table: string, values: Row) => Promise<string>

/** Inserts a row, keeps what was stored, and gives its id back. */
function createPlacer(client: pg.Client, { workspaceId, rows }: Stock): Place {
  return async (table, values) => {
    const row = { workspace_id: workspaceId, ...values }
    const columns = Object.keys(row).map((name) => `"${name}"`)
    const slots = columns.map((_, index) => `$${index + 1}`)
    const stored = await client.query(
      `insert into ${table} (${columns}) values (${slots}) returning *`,
      Object.values(row),
    )
    rows.set(table, stored.rows[0])
    return String(stored.rows[0].id)
  }
}

async function placeWorkspace(place: Place, { personId, mark }: Stock): Promise<void> {
  const slug = `${mark.toLowerCase()}-lane`
  const texts = { time_zone: 'Europe/Berlin', country: 'DE', currency: 'EUR', language: 'en' }
  await place('workspace', {
    name: `${mark} mantids`,
    slug,
    ...texts,
    label_key: labelKeyOf(mark),
    contact: mark,
    claim_terms: mark,
  })
  await place('workspace_slug', { slug })
  const email = `${mark}@example.test`
  await place('membership', { person_id: personId, role: 'owner', display_name: `${mark} owner`, email })
  const until = '2099-01-01'
  const id = randomUUID()
  const invitation = { id, email: `guest-${email}`, role: 'viewer', token_hash: hash(invitationToken(id)) }
  const invitation_id = await place('invitation', { ...invitation, invited_by: personId, expires_at: until })
  await place('mail_message', { to_address: email, subject: mark, body: mark, invitation_id })
  const token = { name: `${mark} till`, role: 'owner', token_hash: hash(`t${mark}`) }
  const token_id = await place('api_token', { ...token, person_id: personId, expires_at: until })
  const series = 'receipt return individual clutch egg-case order show-box'.split(' ')
  for (const name of [...series, `${mark}-series`]) await place('counter', { name, value: 20 })
  await place('operation', {
    id: `${mark}-key`,
    request_hash: hash('r'),
    answer: { mark },
    person_id: personId,
  })
  await placeReminders(place, { personId, mark, hash })
  await place('bench_hours', { minutes_by_weekday: [60, 60, 60, 60, 60, 90, 90] })
  await place('bench_day', { on: '2026-12-24', minutes: 0, note: mark })
  await place('audit_entry', {
    table_name: 'zone',
    change: 'insert',
    after: { mark },
    person_id: personId,
    api_token_id: token_id,
  })
}

async function placeGround(place: Place, { mark, rows, personId }: Stock): Promise<void> {
  const species_id = await place('species', {
    slug: `${mark}-spp`,
    scientific_name: `${mark} spp.`,
    common_name: mark,
  })
  await place('care_profile', { species_id, number: 1, content: markProfile(mark) })
  const zone_id = await place('zone', { name: `${mark} room`, quarantine_reason: mark })
  await place('zone_set_point', { zone_id, from_on: '2026-01-01', day_c: 26 })
  await placeReadings(place, zone_id)
  await placeWatch(place, { zone_id, person_id: String(rows.get('membership')?.person_id), note: mark })
  // The driver gives a list of JSON back as a list, and would write it as one of the database's own.
  rows.set('zone_day', { ...rows.get('zone_day'), hours_c: JSON.stringify(rows.get('zone_day')?.hours_c) })
  // The siblings have a box of their own; what the calls name is the cup.
  const box = { volume_ml: 6000, inner_height_mm: 300, inner_width_mm: 200, single: false, stock: 2 }
  const box_kind_id = await place('container_kind', { name: `${mark} box`, ...box })
  await placeColony(place, { species_id, zone_id, container_kind_id: box_kind_id, mark, personId })
  // Beside the columns, for calls that want a kind for several: what they name by `containerKind` is the cup.
  Object.defineProperty(rows.get('colony'), 'box_kind_id', { value: box_kind_id, enumerable: false })
  const box_id = await place('container', { container_kind_id: box_kind_id, single: false })
  const measures = { volume_ml: 120, inner_height_mm: 70, inner_width_mm: 50, single: true, stock: 9 }
  const container_kind_id = await place('container_kind', { name: `${mark} cup`, ...measures })
  await place('container_kind_order', { container_kind_id, count: 5, expected_on: '2026-04-01' })
  await place('container', { container_kind_id, single: true })
  const texts = { label: `E-${mark}`, supplier: mark, lot: mark, notes: mark }
  const egg_case_id = await place('egg_case', { ...texts, species_id, laid_on: '2026-01-02' })
  await place('egg_case_stay', { egg_case_id, zone_id, from_on: '2026-01-02' })
  const clutch = { label: `C-${mark}`, hatched_on: '2026-02-20', counted: true, notes: mark }
  const clutch_id = await place('clutch', { ...clutch, species_id })
  await place('hatch', { egg_case_id, clutch_id, on: '2026-02-20', likely: 3 })
  await place('clutch_housing', {
    clutch_id,
    zone_id,
    container_id: box_id,
    from_on: '2026-02-20',
    least_moults: 2,
    most_moults: 3,
    override_reason: mark,
  })
  await place('tray', { clutch_id, label: `CT-${mark}`, on: '2026-03-01' })
  rows.set('head_count', { workspace_id: rows.get('clutch')?.workspace_id, clutch_id })
}

async function placeAnimals(place: Place, stock: Stock): Promise<void> {
  const { mark, personId } = stock
  const [clutch_id, zone_id] = ['clutch', 'zone'].map((table) => idOf(stock, table))
  const hatch = { clutch_id, from: 'uncounted', to: 'together', count: 5, on: '2026-02-20' }
  await place('head_count_entry', { ...hatch, note: mark, recorded_by: personId })
  const run = { container_kind_id: idOf(stock, 'container_kind'), zone_id, planned: 3, first_number: 1 }
  await place('separation', { ...run, clutch_id, on: '2026-03-01', started_by: personId })
  stock.gone = await placeAnimal(place, stock, { number: 2, leaves: 'escaped' })
  const individual_id = await placeAnimal(place, stock, { number: 1 })
  const moult_id = await place('moult', { individual_id, number: 2, on: '2026-03-09', note: mark })
  const moult_round_id = await place('moult_round', { on: '2026-03-09', walked_by: personId })
  await place('look', { individual_id, on: '2026-03-11', wing_buds: true, looked_by: personId })
  await place('look', { individual_id, on: '2026-03-09', moult_id, moult_round_id, looked_by: personId })
  const seen = { on: '2026-02-27', moulted: 'some', number: 1, note: mark, seen_by: personId }
  await place('clutch_observation', { ...seen, clutch_id })
  const housing = { container_id: idOf(stock, 'container'), single: true, zone_id, from_on: '2026-03-01' }
  await place('housing', { ...housing, individual_id })
  await place('feeding', { individual_id, on: '2026-03-10', ate: true, prey: mark })
  await placeSheets(place, stock, { individual_id, species_id: idOf(stock, 'species') })
}

/** What was learned, from nothing yet. */
async function placeGrowth(place: Place, stock: Stock): Promise<void> {
  const { profile } = DEFAULT_PROFILES[0] ?? {}
  if (!profile) return
  const nothing = { animals: [], clutches: [], eggCases: [] }
  const fit = fitGrowth(profile, nothing, { zones: new Map(), asOf: '2026-03-20' })
  const content = JSON.stringify({ ...fit, mark: stock.mark })
  const made = { version: 1, evidence_hash: stock.mark, content, fitted_at: '2026-03-20T08:00:00Z' }
  await place('growth_fit', { species_id: idOf(stock, 'species'), ...made })
  stock.rows.set('growth_fit', { ...stock.rows.get('growth_fit'), doubts: '[]' })
  const given = { kind: 'next-moult', subjectId: idOf(stock, 'individual'), moults: 0, givenOn: '2026-03-01' }
  const windows = [{ ...given, p10: '2026-03-08', p50: '2026-03-10', p90: '2026-03-12', chanceInside: 0.85 }]
  const month = { month_on: '2026-03-01', evidence_hash: stock.mark, instars_seen: 0 }
  await place('past_window_month', {
    species_id: idOf(stock, 'species'),
    ...month,
    windows: JSON.stringify(windows),
  })
  stock.rows.set('past_window_month', {
    ...stock.rows.get('past_window_month'),
    windows: JSON.stringify(windows),
  })
  const effect = JSON.stringify({ mean: 0, gain: Array.from({ length: 14 }, () => 0), variance: 0.01 })
  await place('clutch_growth', { clutch_id: idOf(stock, 'clutch'), fit_version: 1, effect })
  const own = { ...JSON.parse(effect), running: null, wrongDates: [], clutchId: idOf(stock, 'clutch') }
  const individual_id = idOf(stock, 'individual')
  await place('animal_growth', { individual_id, fit_version: 1, effect: JSON.stringify(own) })
}

/** One of the siblings, in a cup of its own, and perhaps away since then. */
async function placeAnimal(
  place: Place,
  stock: Stock,
  what: { number: number; leaves?: string },
): Promise<string> {
  const { mark, personId } = stock
  const [species_id, clutch_id, separation_id] = ['species', 'clutch', 'separation'].map((each) =>
    idOf(stock, each),
  )
  const animal = {
    label: individualCode(what.number, String(labelKeyOf(mark))),
    whereabouts: 'together',
    baseline_on: '2026-03-01',
    baseline_moults: 1,
  }
  const texts = { supplier: mark, notes: mark }
  const individual_id = await place('individual', {
    ...animal,
    ...texts,
    species_id,
    clutch_id,
    tray_id: idOf(stock, 'tray'),
  })
  const entry = { clutch_id, individual_id, count: 1, note: mark, recorded_by: personId }
  await place('head_count_entry', {
    ...entry,
    from: 'together',
    to: 'single',
    on: '2026-03-01',
    separation_id,
  })
  if (what.leaves)
    await place('head_count_entry', { ...entry, from: 'single', to: what.leaves, on: '2026-03-12' })
  return individual_id
}

async function placeSale(place: Place, stock: Stock): Promise<void> {
  const { mark, personId, rows } = stock
  const [parting, animal] = [rows.get('head_count_entry'), rows.get('individual')]
  const back = await placeSold(place, stock, 1)
  await place('sale_reversal', { sale_id: back, on: '2026-03-13', reason: mark })
  const returned = {
    return_number: 1,
    on: '2026-03-13',
    reason: mark,
    refund_minor: 1250,
    taken_by: personId,
  }
  const return_id = await place('sale_return', { sale_id: back, ...returned })
  const part = { line_number: 1, quantity: 1, refund_minor: 1250, tax_minor: 0, restocked: true }
  await place('sale_return_line', { return_id, sale_id: back, ...part })
  await placeSold(place, stock, 2)
  // What the calls name is the animal at home, and the entry that parted it.
  rows.set('individual', animal ?? {}).set('head_count_entry', parting ?? {})

  async function placeSold(placeRow: Place, sold: Stock, receipt_number: number): Promise<string> {
    const individual_id = await placeAnimal(placeRow, sold, {
      number: 2 + receipt_number,
      leaves: 'sold',
    })
    const sale = { receipt_number, on: '2026-03-12', currency: 'EUR', total_minor: 1250, note: mark }
    const buyer_id = idOf(sold, 'buyer')
    const sale_id = await placeRow('sale', { ...sale, sold_by: personId, buyer_id })
    const words = { description: mark, override_reason: mark, warnings: '[]' }
    const price = { unit_price_minor: 1250, price_minor: 1250 }
    await placeRow('sale_line', {
      sale_id,
      number: 1,
      individual_id,
      entry_id: idOf(sold, 'head_count_entry'),
      ...words,
      ...price,
    })
    await placeRow('sale_payment', {
      sale_id,
      number: 1,
      kind: 'cash',
      amount_minor: 1250,
      given_minor: 2000,
    })
    return sale_id
  }
}

/** A line of its own with two jars, one from the other, and what bounds the planning of them. */
async function placeFood(place: Place, stock: Stock): Promise<void> {
  const { mark, personId } = stock
  const slug = `${mark.toLowerCase()}-fly`
  await place('prey_line', { slug, kept: true })
  const content = JSON.stringify({ ...DEFAULT_PREY_LINES[0], id: slug, name: `${mark} fly` })
  await place('prey_line_version', { slug, number: 1, content })
  const jar = { slug, zone_id: idOf(stock, 'zone'), shelf: mark, notes: mark }
  const source = await place('culture', { ...jar, label: `J-${mark}`, started_on: '2026-02-01' })
  const daughter = { ...jar, label: `J-${mark}-2`, started_on: '2026-03-01', starters_from: source }
  const culture_id = await place('culture', daughter)
  const moved = { on: '2026-03-05', from_zone_id: jar.zone_id, to_zone_id: jar.zone_id, moved_by: personId }
  await place('culture_move', { ...moved, culture_id })
  const taken = { on: '2026-03-15', count: 80, measure: 'about', harvested_by: personId }
  await place('harvest', { ...taken, culture_id })
  const order = { packs: 2, pack_size: 100, ordered_on: '2026-03-10', due_on: '2026-03-12', cost_minor: 900 }
  await place('prey_order', { ...order, slug })
  await place('prey_count', { slug, on: '2026-03-12', count: 40, counted_by: personId })
  await place('prey_departure', { slug, on: '2026-03-13', count: 5, how: 'sold' })
  const eats = { items_each_time: 50, weekdays: [4], from_on: '2026-01-01', until_on: '2026-12-31' }
  await place('other_mouth', { ...eats, name: mark, slug })
  await place('food_limits', {
    shelf_places: 12,
    minutes_per_start_day: 60,
    start_weekdays: [6],
    service_level: 0.95,
  })
  await place('food_closed_day', { side: 'supplier', on: '2026-12-24', closed: true, note: mark })
  const plan = { question: { mark }, is_trial: false, from_on: '2026-03-02', weeks: 8, failure: mark }
  await place('food_plan', { ...plan, asked_by: personId })
}

/** Three orders: one that arrived and was settled, one on its way, one that is open with an animal chosen. */
async function placeOrders(place: Place, stock: Stock): Promise<void> {
  const { mark, personId, rows } = stock
  const [buyer_id, species_id, sale_id] = ['buyer', 'species', 'sale'].map((table) => idOf(stock, table))
  const ordered = {
    way: 'sent',
    ordered_on: '2026-03-10',
    transit_days: 1,
    claim_hours: 24,
    away_on: [],
    buyer_id,
  }
  const texts = { country: 'DE', area: 'DE 79', note: mark, taken_by: personId }
  const left = { left_on: '2026-03-12', sale_id, carrier: mark, warnings: '[]' }
  const came = { arrived_at: '2026-03-13T09:00:00Z', reported_at: '2026-03-13T10:00:00Z', arrival_note: mark }
  const settled = { claim_end: 'refund', claim_end_on: '2026-03-14', claim_note: mark }
  stock.arrived = await place('customer_order', {
    number: 1,
    ...ordered,
    ...texts,
    ...left,
    ...came,
    ...settled,
  })
  const named = rows.get('sale')
  const other = await place('sale', {
    ...{
      receipt_number: 9,
      on: '2026-03-12',
      currency: 'EUR',
      total_minor: 0,
      note: mark,
      sold_by: personId,
    },
  })
  stock.sent = await place('customer_order', { number: 2, ...ordered, ...texts, ...left, sale_id: other })
  rows.set('sale', named ?? {})
  await place('order_address', { order_id: stock.sent, name: mark })
  const order_id = await place('customer_order', { number: 3, ...ordered, ...texts, cancel_reason: mark })
  await place('order_address', { order_id, name: mark, address: mark, phone: mark })
  const line = { species_id, sex: 'any', takes: 'either', from_moults: 0, count: 2, price_minor: 900 }
  await place('order_line', { order_id, number: 1, ...line })
  await placeOrderGoods(place, stock, order_id)
  const chosen = { order_id, line_number: 1, chosen_on: '2026-03-11' }
  const [animal, parting] = [rows.get('individual'), rows.get('head_count_entry')]
  const second = await placeAnimal(place, stock, { number: 9 })
  await place('order_animal', { ...chosen, individual_id: second })
  const [cup, home] = [rows.get('container'), rows.get('housing')]
  const container_id = await place('container', {
    container_kind_id: idOf(stock, 'container_kind'),
    single: true,
  })
  const stay = { container_id, single: true, zone_id: idOf(stock, 'zone'), from_on: '2026-03-01' }
  await place('housing', { ...stay, individual_id: second })
  rows.set('container', cup ?? {}).set('housing', home ?? {})
  rows.set('individual', animal ?? {}).set('head_count_entry', parting ?? {})
  await place('order_animal', { ...chosen, individual_id: idOf(stock, 'individual') })
  // One who was let go again comes last: of such there may be several.
  await place('order_animal', { ...chosen, individual_id: stock.gone, released_on: '2026-03-12' })
  const rules = { weekdays: [1, 2], transit_days: 1, claim_hours: 24, keep_address_days: 30, area: 'DE 79' }
  await place('dispatch_rules', rules)
  await place('dispatch_closed_day', { country: 'DE', on: '2026-12-25', closed: true, note: mark })
  await place('air_day', { area: 'DE 79', on: '2026-12-01', low_c: 2, high_c: 8 })
}
