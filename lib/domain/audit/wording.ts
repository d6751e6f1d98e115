import { writeDay, writeShortWeekdays } from '../calendar/wording'
import { writeMoney } from '../money/money'

type Row = Record<string, unknown>

export type RecordedChange = { tableName: string; change: string; before: unknown; after: unknown }

/** A change in words: what was done to what, and which values went from what to what. */
export type DescribedChange = { what: string; details: string[] }

const NOUNS: Record<string, string> = {
  air_day: 'air of a day',
  api_token: 'API token',
  calendar_feed: 'calendar address',
  care_profile: 'care profile',
  care_sheet: 'care sheet',
  clutch_housing: 'place of a clutch',
  clutch_observation: 'what was seen of a clutch',
  colony_count: 'count of a colony',
  container_kind: 'kind of container',
  container_kind_order: 'order of containers',
  customer_order: 'order',
  day_mail: 'day sheet by mail',
  dispatch_closed_day: 'day closed for sending',
  dispatch_rules: 'rules for sending',
  egg_case: 'egg case',
  egg_case_stay: 'place of an egg case',
  head_count_entry: 'head count entry',
  housing: 'place of an animal',
  individual: 'animal',
  mail_message: 'mail',
  membership: 'person',
  moult_round: 'moult round',
  order_animal: 'animal of an order',
  order_line: 'line of an order',
  order_payment: 'payment of an order',
  order_stock_line: 'thing of an order',
  price_entry: 'price',
  public_link: 'public page',
  reservation: 'hold',
  sale_line: 'line of a sale',
  show_box_item: 'thing of a show box',
  sale_payment: 'payment of a sale',
  sale_return: 'return of a sale',
  sale_return_line: 'line of a return',
  sale_reversal: 'reversal of a sale',
  tax_rate: 'rate of tax',
  till: 'way of selling',
  workspace_slug: 'address of the workspace',
  zone_set_point: 'temperature of a zone',
  zone_watch: 'watch of a zone',
  zone_watcher: 'person on watch',
  zone_incident: 'incident',
}

const VERBS: Record<string, string> = { insert: 'recorded', update: 'changed', delete: 'removed' }

/** Bookkeeping that says nothing to a person, and what must not be shown. */
const HIDDEN =
  /^(workspace_id|id|version|created_at|recorded_at|recorded_by|token_hash|label_key|content|body|html)$|_id$/

/** What a person's name and an amount of money are written with. */
export type AuditWords = { nameOfPerson: ReadonlyMap<string, string>; currency: string }

const UNITS: [RegExp, string][] = [
  [/_c$/, '°C'],
  [/_pct$/, '%'],
  [/_mm$/, 'mm'],
  [/_ml$/, 'ml'],
  [/_minutes$/, 'min'],
]
const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/i
const DATE = /^\d{4}-\d{2}-\d{2}$/
const MONEY = /_minor$/

const NAMING = ['label', 'name', 'display_name', 'scientific_name', 'slug', 'subject', 'number']
const LONGEST = 60

export function describeChange(
  { tableName, change, before, after }: RecordedChange,
  words: AuditWords,
): DescribedChange {
  const noun = NOUNS[tableName] ?? tableName.replaceAll('_', ' ')
  const row = asRow(after) ?? asRow(before) ?? {}
  const naming = NAMING.map((key) => row[key]).find(
    (value) => typeof value === 'string' || typeof value === 'number',
  )
  const subject = naming === undefined ? noun : `${noun} ${naming}`
  return {
    what: `${capitalise(subject)} ${VERBS[change] ?? change}`,
    details: listDetails(asRow(before), asRow(after), words),
  }
}

function listDetails(before: Row | undefined, after: Row | undefined, words: AuditWords): string[] {
  const keys = Object.keys(after ?? before ?? {}).filter((key) => !HIDDEN.test(key))
  return keys.flatMap((key) => {
    const [old, now] = [before?.[key], after?.[key]].map((value) => sayValue(key, value, words))
    const label = sayKey(key)
    if (before && after) return old === now ? [] : [`${label}: ${old} → ${now}`]
    const only = after ? now : old
    return only === NOTHING || NAMING.includes(key) ? [] : [`${label}: ${only}`]
  })
}

/** "cost minor" is a cost, "day c" the temperature of a day: units stand at the value. */
function sayKey(key: string): string {
  const bare = UNITS.reduce((left, [ending]) => left.replace(ending, ''), key.replace(MONEY, ''))
  return bare.replaceAll('_', ' ')
}

const NOTHING = 'nothing'

function sayValue(key: string, value: unknown, words: AuditWords): string {
  if (value === undefined || value === null || value === '' || (Array.isArray(value) && value.length === 0))
    return NOTHING
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'number') return sayNumber(key, value, words)
  if (key.endsWith('weekdays') && isWholeNumbers(value)) return writeShortWeekdays(value)
  if (typeof value === 'string') return sayText(value, words)
  return shorten(JSON.stringify(value))
}

function sayNumber(key: string, value: number, { currency }: AuditWords): string {
  if (MONEY.test(key)) return writeMoney(value, currency, 'en')
  const unit = UNITS.find(([ending]) => ending.test(key))?.[1]
  return unit ? `${value} ${unit}` : String(value)
}

/** An id is said as the person it belongs to; any other id is a link between records and says nothing. */
function sayText(value: string, { nameOfPerson }: AuditWords): string {
  if (UUID.test(value)) return nameOfPerson.get(value) ?? NOTHING
  if (DATE.test(value)) return writeDay(value)
  return shorten(value.replaceAll('_', ' '))
}

function shorten(text: string): string {
  return text.length > LONGEST ? `${text.slice(0, LONGEST)} …` : text
}

function isWholeNumbers(value: unknown): value is number[] {
  return Array.isArray(value) && value.every(Number.isInteger)
}

function isRow(value: unknown): value is Row {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function asRow(value: unknown): Row | undefined {
  return isRow(value) ? value : undefined
}

function capitalise(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
