import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { instantOf } from '@/lib/domain/calendar/instant'
import { orderTask } from '@/lib/domain/day-sheet/order-task'
import type { DayTask } from '@/lib/domain/day-sheet/task'
import type { TravellingAnimal } from '@/lib/domain/dispatch/animal'
import { checkDay } from '@/lib/domain/dispatch/day'
import { firstDispatchDays } from '@/lib/domain/dispatch/days'
import { travellerOf } from '@/lib/domain/dispatch/from-records'
import {
  type AirDay,
  type ClosedDay,
  type JourneyRules,
  USUAL_TRANSIT_DAYS,
  USUAL_WEEKDAYS,
} from '@/lib/domain/dispatch/journey'
import { DISPATCH_HORIZON_DAYS, type DispatchQuestion, type OrderedLine } from '@/lib/domain/dispatch/order'
import { moultsOf } from '@/lib/domain/individual/record'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode } from '@/lib/domain/label/code'
import { describeLine } from '@/lib/domain/order/description'
import type { ZonesById } from '@/lib/domain/zone/history'
import { type GrownSpecies, loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { type IndividualRow, requireIndividuals } from '@/lib/features/individual/data'
import {
  balanceOfOrder,
  listFreeAnimals,
  listOrders,
  type OrderLineRow,
  type OrderRow,
} from '@/lib/features/order/data'
import { loadProfiles } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import { airSource } from '@/lib/platform/air-forecast'
import type { Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import { Prisma } from '@/lib/platform/generated/prisma/client'
import { enqueueForgetting } from '@/lib/platform/jobs'
import type { Warning } from '@/lib/platform/warned'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

export type DispatchRules = {
  weekdays: number[]
  transitDays: number
  claimHours: number
  keepAddressDays: number
  area: string
  /** 0 where nobody has said anything yet */
  version: number
}

export const USUAL_RULES: DispatchRules = {
  weekdays: [...USUAL_WEEKDAYS],
  transitDays: USUAL_TRANSIT_DAYS,
  claimHours: 24,
  keepAddressDays: 30,
  area: '',
  version: 0,
}

export type KeptAir = { area: string; on: PlainDate; lowC: number; highC: number }
export type KeptClosedDay = { country: string; on: PlainDate; note: string }

/** When and how boxes are sent, with what is known of the days to come. */
export type DispatchBook = {
  rules: DispatchRules
  closedDays: KeptClosedDay[]
  ownDays: KeptClosedDay[]
  air: KeptAir[]
}

export type ToldBook = Omit<DispatchBook, 'rules'> & { rules: DispatchRules | null }

/** One statement; days that have passed are left out. Our own closed days are those of the room. */
export async function loadDispatchBook(
  tx: Tx,
  workspaceId: WorkspaceId,
  { today }: { today: PlainDate },
): Promise<DispatchBook> {
  const rows = await tx.$queryRaw<{ told: ToldBook }[]>(selectDispatchBook(workspaceId, today))
  const told = rows[0]?.told
  invariant(told, 'one row of one object')
  return readDispatchBook(told)
}

export function readDispatchBook(told: ToldBook): DispatchBook {
  return { ...told, rules: told.rules ?? USUAL_RULES }
}

/** The book as one object, for a statement that asks for more than it. */
export function selectDispatchBook(workspaceId: WorkspaceId, today: PlainDate): Prisma.Sql {
  return Prisma.sql`
    select json_build_object(
      'rules', (select json_build_object('weekdays', r.weekdays, 'transitDays', r.transit_days,
          'claimHours', r.claim_hours, 'keepAddressDays', r.keep_address_days, 'area', r.area, 'version', r.version)
        from dispatch_rules r where r.workspace_id = ${workspaceId}::uuid),
      'closedDays', (select coalesce(json_agg(json_build_object('country', c.country, 'on', c."on", 'note', c.note)
          order by c."on", c.country), '[]')
        from dispatch_closed_day c where c.workspace_id = ${workspaceId}::uuid and c.closed
          and c."on" >= ${today}::date),
      'ownDays', (select coalesce(json_agg(json_build_object('country', '', 'on', c."on", 'note', c.note)
          order by c."on"), '[]')
        from food_closed_day c where c.workspace_id = ${workspaceId}::uuid and c.closed and c.side = 'room'
          and c."on" >= ${today}::date),
      'air', (select coalesce(json_agg(json_build_object('area', a.area, 'on', a."on", 'lowC', a.low_c,
          'highC', a.high_c) order by a.area, a."on"), '[]')
        from air_day a where a.workspace_id = ${workspaceId}::uuid and a."on" >= ${today}::date)) as told`
}

/** Everything that dispatch days of some orders are worked out from. */
export type DispatchGround = {
  workspace: Workspace
  book: DispatchBook
  animals: IndividualRow[]
  species: ReadonlyMap<string, GrownSpecies>
  zones: ZonesById
  forecast: KeptAir[]
}

/** Animals looked at besides those chosen: more than any order needs, fewer than a large room has. */
const CANDIDATES = 240

/** Collects in seven statements, however many orders. */
export async function loadDispatchGround(
  tx: Tx,
  workspace: Workspace,
  orders: readonly OrderRow[],
): Promise<DispatchGround> {
  const { workspaceId, today } = workspace
  const book = await loadDispatchBook(tx, workspaceId, { today })
  const speciesIds = [...new Set(orders.flatMap(({ lines }) => lines.map(({ speciesId }) => speciesId)))]
  const free = await listFreeAnimals(tx, workspaceId, { speciesIds, limit: CANDIDATES })
  const chosen = orders.flatMap(({ lines }) => lines.flatMap((line) => line.chosen.map(({ id }) => id)))
  const animals = await requireIndividuals(tx, workspaceId, [...new Set([...chosen, ...free])])
  const listed = [...(await loadProfiles(tx, workspaceId)).values()]
  const zones = await loadZonesById(tx, workspaceId)
  const species = await loadGrownSpecies(tx, workspaceId, { species: listed, zones, animals })
  const areas = [book.rules.area, ...orders.map(({ area }) => area)].filter(Boolean)
  const forecast = await airSource().read(areas)
  return { workspace, book, animals, species, zones, forecast }
}

/** Animals as journeys ask about them, each worked out once for all orders that may want it. */
export type Travellers = (animal: IndividualRow, isBeginner: boolean) => TravellingAnimal | null

export function travellersOf({ workspace, species, zones }: DispatchGround): Travellers {
  const known = new Map<string, TravellingAnimal | null>()
  const naming = instarNamingOf(workspace)
  return (animal, isBeginner) => {
    const key = `${animal.id} ${isBeginner}`
    const before = known.get(key)
    if (before !== undefined) return before
    const { profile = null, learned = null } = species.get(animal.speciesId) ?? {}
    const surroundings = profile && { profile, learned, naming, zones, today: workspace.today }
    const made = surroundings ? travellerOf(animal, surroundings, { isBeginner }) : null
    known.set(key, made)
    return made
  }
}

/** One order as the question of its dispatch days. */
export function questionOf(
  order: OrderRow,
  ground: DispatchGround,
  travellers: Travellers,
): DispatchQuestion {
  const { workspace } = ground
  const chosenHere = new Set(order.lines.flatMap((line) => line.chosen.map(({ id }) => id)))
  const naming = instarNamingOf(workspace)
  return {
    today: workspace.today,
    from: order.notBefore && order.notBefore > workspace.today ? order.notBefore : workspace.today,
    horizonDays: DISPATCH_HORIZON_DAYS,
    lines: order.lines.map((line) => orderedLine(line, describeLine(line, naming))),
    animals: ground.animals
      .filter((animal) => chosenHere.has(animal.id) || order.lines.some((line) => isNear(animal, line)))
      .flatMap((animal) => travellers(animal, order.isForBeginner) ?? []),
    rules: rulesOf(order, ground),
    air: order.way === 'sent' ? airOfOrder(order, ground) : [],
    isCollected: order.isDepot,
    isHandedOver: order.way === 'collected',
    naming,
  }
}

/** Of the kind, and at most one moult away from the stage: whoever is further off is not fit for it in these weeks. */
function isNear(animal: IndividualRow, line: OrderLineRow): boolean {
  const { sex, takes, fromMoults, untilMoults } = line
  if (animal.speciesId !== line.speciesId || (sex !== 'any' && sex !== animal.sex)) return false
  const isAdult = animal.adultSinceOn !== null
  if (takes === 'adult') return isAdult
  const moults = moultsOf(animal)
  if (isAdult) return takes === 'either'
  return moults >= fromMoults - 1 && (untilMoults === null || moults <= untilMoults)
}

function orderedLine(line: OrderLineRow, words: string): OrderedLine {
  const { number, speciesId, sex, takes, fromMoults, untilMoults, count, chosen } = line
  const stage = { takes, fromMoults, untilMoults }
  return { number, speciesId, words, sex, stage, count, chosen: chosen.map(({ id }) => id) }
}

const EVERY_WEEKDAY = [1, 2, 3, 4, 5, 6, 7]

/** What is handed over here needs our own days to be open, and nothing else. */
function rulesOf(order: OrderRow, ground: DispatchGround): JourneyRules {
  const { book } = ground
  const own = book.ownDays.map(({ on, note }) => ({ end: 'here' as const, on, note }))
  if (order.way === 'collected') return { weekdays: EVERY_WEEKDAY, transitDays: 0, closedDays: own }
  const closedDays = [...own, ...closedDaysOf(order, ground)]
  return { weekdays: book.rules.weekdays, transitDays: order.transitDays, closedDays }
}

function closedDaysOf(order: OrderRow, { workspace, book }: DispatchGround): ClosedDay[] {
  const at = (end: 'here' | 'there', country: string) =>
    book.closedDays
      .filter((day) => day.country === '' || day.country === country)
      .map(({ on, note }) => ({ end, on, note }))
  const away = order.awayOn.map((on) => ({ end: 'there' as const, on, note: 'nobody is in' }))
  return [...at('here', workspace.country), ...at('there', order.country), ...away]
}

/** What was typed goes before what the forecast says. */
function airOfOrder(order: OrderRow, { book, forecast }: DispatchGround): AirDay[] {
  const ofArea = (end: 'here' | 'there', area: string): AirDay[] => {
    if (area === '') return []
    const days = new Map<PlainDate, AirDay>()
    for (const source of [forecast, book.air])
      for (const { area: known, on, lowC, highC } of source)
        if (known === area) days.set(on, { end, on, lowC, highC })
    return [...days.values()]
  }
  return [...ofArea('here', book.rules.area), ...ofArea('there', order.area)]
}

/** More open orders than this are no day's work; the list shows the rest. */
const TASK_ORDERS = 24

/**
 * Orders to send and to hand over, for the day sheet: one statement besides what it has read already. Nobody is named.
 */
export async function loadOrderTasks(
  tx: Tx,
  workspace: Workspace,
  known: Pick<DispatchGround, 'animals' | 'species' | 'zones' | 'book'>,
): Promise<DayTask[]> {
  const { workspaceId, today } = workspace
  const { items } = await listOrders(tx, workspaceId, { limit: TASK_ORDERS, state: 'open' })
  if (items.length === 0) return []
  const areas = [known.book.rules.area, ...items.map(({ area }) => area)].filter(Boolean)
  const ground = { ...known, workspace, forecast: await airSource().read(areas) }
  const travellers = travellersOf(ground)
  const elsewhere = new Map(
    items.flatMap(({ id, lines }) =>
      lines.flatMap(({ chosen }) => chosen.map((one) => [one.id, id] as const)),
    ),
  )
  return items.flatMap((order) => {
    const isFree = ({ id }: IndividualRow) => (elsewhere.get(id) ?? order.id) === order.id
    const own = { ...ground, animals: ground.animals.filter(isFree) }
    const question = questionOf(order, own, travellers)
    const labelOf = (id: string) => formatCode(own.animals.find((animal) => animal.id === id)?.label ?? '')
    const isChosen = order.lines.every(({ count, chosen }) => chosen.length >= count)
    const isPartlyPaid = order.paidOn === null && balanceOfOrder(order).paidMinor > 0
    const facts = { ...order, today, isChosen, isPartlyPaid, names: { animal: labelOf } }
    return orderTask(facts, firstDispatchDays(question, 1))
  })
}

/** What speaks against a packing day of an order, as warnings. */
export async function listDispatchWarnings(
  tx: Tx,
  workspace: Workspace,
  { order, on }: { order: OrderRow; on: PlainDate },
): Promise<Warning[]> {
  const ground = await loadDispatchGround(tx, workspace, [order])
  const { holds } = checkDay(on, questionOf(order, ground, travellersOf(ground)))
  const chosen = order.lines.flatMap((line) => line.chosen)
  const labelOf = (id: string) => formatCode(chosen.find((one) => one.id === id)?.label ?? '')
  return holds.map((hold) => {
    if (hold.by === 'weekday')
      return { code: 'weekday', message: 'This is not a day on which boxes are sent.' }
    if (hold.by !== 'animal') return { code: hold.by, message: hold.message }
    return { code: hold.code, message: `${labelOf(hold.animal)}: ${hold.message}` }
  })
}

/** Addresses are kept only as long as they are needed: so many days after `since`. */
export async function endAddressLater(
  tx: Tx,
  { workspaceId, today, timeZone }: Workspace,
  { order: { id }, since }: { order: OrderRow; since: PlainDate },
): Promise<void> {
  const { rules } = await loadDispatchBook(tx, workspaceId, { today })
  const dueMs = instantOf(addDays(since, rules.keepAddressDays), '03:00', timeZone)
  await enqueueForgetting(tx, workspaceId, { orderId: id, dueMs })
}
