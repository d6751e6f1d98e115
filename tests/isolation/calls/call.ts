import type { Tx } from '@/lib/platform/db'
import type { Actor } from '@/lib/platform/workspace'
import type { Stock } from '../stock'

/** The ids a call may name; each of them is in turn replaced by the neighbour's. */
export type Ids = Record<
  | 'zone'
  | 'species'
  | 'containerKind'
  | 'containerOrder'
  | 'container'
  | 'eggCase'
  | 'clutch'
  | 'individual'
  | 'gone'
  | 'order'
  | 'sentOrder'
  | 'arrivedOrder'
  | 'sold'
  | 'label'
  | 'entry'
  | 'separation'
  | 'moult'
  | 'moultRound'
  | 'observation'
  | 'sale'
  | 'buyer'
  | 'taxRate'
  | 'priceList'
  | 'reservation'
  | 'wish'
  | 'paper'
  | 'clearance'
  | 'showBox'
  | 'handOver'
  | 'person'
  | 'invitation'
  | 'readingBatch'
  | 'incident'
  | 'apiToken'
  | 'preyLine'
  | 'preyOrder'
  | 'culture'
  | 'harvest'
  | 'otherMouth'
  | 'foodPlan'
  | 'auditEntry'
  | 'colony'
  | 'tray'
  | 'boxKind'
  | 'lot'
  | 'sheetBatch'
  | 'photo'
  | 'workspace',
  string
>

/** One exported function, called as the service calls it. */
export type Call = (tx: Tx, actor: Actor, id: Ids) => Promise<unknown>

/** By `<feature>/<file> <function>`. */
export type Calls = Record<string, Call>

const COLUMN_OF: Record<
  Exclude<keyof Ids, 'gone' | 'sentOrder' | 'arrivedOrder'>,
  [table: string, column: string]
> = {
  zone: ['zone', 'id'],
  species: ['species', 'id'],
  containerKind: ['container_kind', 'id'],
  containerOrder: ['container_kind_order', 'id'],
  container: ['container', 'id'],
  eggCase: ['egg_case', 'id'],
  clutch: ['clutch', 'id'],
  individual: ['individual', 'id'],
  label: ['individual', 'label'],
  sold: ['sale_line', 'individual_id'],
  entry: ['head_count_entry', 'id'],
  separation: ['separation', 'id'],
  moult: ['moult', 'id'],
  moultRound: ['moult_round', 'id'],
  observation: ['clutch_observation', 'id'],
  sale: ['sale', 'id'],
  order: ['customer_order', 'id'],
  buyer: ['buyer', 'id'],
  taxRate: ['tax_rate', 'id'],
  priceList: ['price_list', 'id'],
  reservation: ['reservation', 'id'],
  wish: ['wish', 'id'],
  paper: ['paper', 'id'],
  clearance: ['clearance', 'id'],
  showBox: ['show_box', 'id'],
  handOver: ['hand_over', 'id'],
  person: ['membership', 'person_id'],
  invitation: ['invitation', 'id'],
  readingBatch: ['reading_batch', 'id'],
  incident: ['zone_incident', 'id'],
  apiToken: ['api_token', 'id'],
  auditEntry: ['audit_entry', 'id'],
  preyLine: ['prey_line', 'slug'],
  preyOrder: ['prey_order', 'id'],
  culture: ['culture', 'id'],
  harvest: ['harvest', 'id'],
  otherMouth: ['other_mouth', 'id'],
  foodPlan: ['food_plan', 'id'],
  colony: ['colony', 'id'],
  tray: ['tray', 'id'],
  boxKind: ['colony', 'box_kind_id'],
  lot: ['sheet_lot', 'id'],
  sheetBatch: ['sheet_batch', 'id'],
  photo: ['photo', 'id'],
  workspace: ['workspace', 'workspace_id'],
}

/** A workspace's ids, telling which of them a call has asked for. */
export function watchIds(stock: Stock, replaced: Partial<Ids> = {}): { ids: Ids; asked: Set<keyof Ids> } {
  const asked = new Set<keyof Ids>()
  const ids = {} as Ids
  const watch = (key: keyof Ids, value: string) =>
    Object.defineProperty(ids, key, {
      get: () => {
        asked.add(key)
        return replaced[key] ?? value
      },
    })
  for (const key of Object.keys(COLUMN_OF) as (keyof typeof COLUMN_OF)[]) {
    const [table, column] = COLUMN_OF[key]
    watch(key, String(stock.rows.get(table)?.[column]))
  }
  watch('gone', stock.gone)
  watch('sentOrder', stock.sent)
  watch('arrivedOrder', stock.arrived)
  return { ids, asked }
}
