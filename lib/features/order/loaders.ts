import { buyerWords } from '@/lib/documents/order/buyer-words'
import type { SlipKind, SlipPayload } from '@/lib/documents/order/slip'
import { orderLineText } from '@/lib/documents/wording/sold'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { type DispatchAnswer, firstDispatchDays } from '@/lib/domain/dispatch/days'
import { commonPacking, type TemperatureGate } from '@/lib/domain/dispatch/gate'
import { type WayOut, waysOutOf } from '@/lib/domain/dispatch/way-out'
import { instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import type { OrderBalance } from '@/lib/domain/order/balance'
import { describeLine } from '@/lib/domain/order/description'
import { claimTime, orderState, sayOrderState } from '@/lib/domain/order/state'
import { isAllowed } from '@/lib/domain/role/permissions'
import { listBuyerChoices } from '@/lib/features/buyer/data'
import {
  type DispatchGround,
  loadDispatchBook,
  loadDispatchGround,
  questionOf,
  travellersOf,
} from '@/lib/features/dispatch/data'
import {
  balanceOfOrder,
  factsOfOrder,
  listOrders,
  loadRecipient,
  loadRecipientNames,
  type OrderFilter,
  type OrderRow,
  requireOrder,
} from '@/lib/features/order/data'
import { listSpecies } from '@/lib/features/species/data'
import { listItemChoices } from '@/lib/features/stock-line/data'
import { isLanguage, type Language } from '@/lib/messages/language'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

const FILTERS: readonly OrderFilter[] = ['open', 'left', 'cancelled']

function presentLines(order: OrderRow, workspace: Workspace) {
  const naming = instarNamingOf(workspace)
  return order.lines
    .filter(({ count }) => count > 0)
    .map((line) => ({
      ...line,
      words: describeLine(line, naming),
      chosen: line.chosen.map((animal) => ({ ...animal, code: formatCode(animal.label) })),
    }))
}
type ShownLine = ReturnType<typeof presentLines>[number]

export type ListedOrder = {
  id: string
  number: number
  name: string
  way: OrderRow['way']
  lines: ShownLine[]
  state: ReturnType<typeof orderState>
  stateWords: string
  stock: OrderRow['stock']
  balance: OrderBalance
  /** The first day it can go, of open ones; null where none is near. */
  firstDay: PlainDate | null
}

/** Orders, newest first; open ones with the first day on which they can go. */
export function loadOrdersPage(slug: string, asked: { state?: string; cursor?: string }) {
  return loadPage({ slug, permission: 'order:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today, currency } = workspace
    const state = FILTERS.find((one) => one === asked.state) ?? 'open'
    const cursor = asked.cursor ? requireIdParam(asked.cursor) : undefined
    const { items, nextCursor } = await listOrders(tx, workspaceId, { limit: 25, cursor, state })
    const names = await loadRecipientNames(
      tx,
      workspaceId,
      items.map(({ id }) => id),
    )
    const ground =
      state === 'open' && items.length > 0 ? await loadDispatchGround(tx, workspace, items) : null
    const firstDays = ground ? firstDaysOf(items, ground) : new Map<string, PlainDate | null>()
    return {
      ...{ state, nextCursor, today, currency },
      isFirstPage: cursor === undefined,
      mayWrite: isAllowed(scope.role, 'order:write'),
      items: items.map((row): ListedOrder => {
        const facts = factsOfOrder(row)
        return {
          id: row.id,
          number: row.number,
          name: names.get(row.id) ?? '',
          way: row.way,
          lines: presentLines(row, workspace),
          state: orderState(facts),
          stateWords: sayOrderState(facts, today),
          stock: row.stock,
          balance: balanceOfOrder(row),
          firstDay: firstDays.get(row.id) ?? null,
        }
      }),
    }
  })
}
export type OrdersPage = Awaited<ReturnType<typeof loadOrdersPage>>

function firstDaysOf(orders: readonly OrderRow[], ground: DispatchGround): Map<string, PlainDate | null> {
  const travellers = travellersOf(ground)
  return new Map(
    orders.map((order) => {
      const { days } = firstDispatchDays(questionOf(order, ground, travellers), 1)
      return [order.id, days[0]?.packOn ?? null]
    }),
  )
}

const IN_WORDS = { value: 'other~', label: 'Something in words, such as postage' }

/** What an order can be made of. */
export function loadNewOrderPage(slug: string) {
  return loadPage({ slug, permission: 'order:write' }, async ({ tx, workspace }) => {
    const { workspaceId, today, currency } = workspace
    const species = await listSpecies(tx, workspaceId)
    const buyers = await listBuyerChoices(tx, workspaceId)
    const { rules } = await loadDispatchBook(tx, workspaceId, { today })
    const naming = instarNamingOf(workspace)
    return {
      ...{ today, currency },
      items: [IN_WORDS, ...(await listItemChoices(tx, workspaceId))],
      transitDays: rules.transitDays,
      species: species.flatMap(({ id, scientificName, profile }) =>
        profile ? [{ value: id, label: scientificName }] : [],
      ),
      buyers: buyers.map(({ id, name }) => ({ value: id, label: name })),
      stages: [
        { value: 'any', label: 'any stage' },
        ...Array.from({ length: 9 }, (_, moults) => ({
          value: String(moults),
          label: instarLabel(moults, naming),
        })),
        { value: 'adult', label: 'adult' },
      ],
    }
  })
}
export type NewOrderPage = Awaited<ReturnType<typeof loadNewOrderPage>>

type Dispatch = { answer: DispatchAnswer; ways: WayOut[]; codes: Record<string, string> }

/** One order with the days on which it can go, or with what became of it. */
export function loadOrderPage(slug: string, id: string, asked: { language?: string }) {
  return loadPage({ slug, permission: 'order:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today, currency, temperatureUnit } = workspace
    const order = await requireOrder(tx, workspaceId, requireIdParam(id))
    const recipient = await loadRecipient(tx, workspaceId, order.id)
    const isOpen = order.leftOn === null && order.cancelledOn === null
    const ground = isOpen ? await loadDispatchGround(tx, workspace, [order]) : null
    const dispatch = ground ? computeDispatch(order, ground) : null
    const language = languageOf(asked.language, order, workspace)
    const facts = factsOfOrder(order)
    const mayWrite = isAllowed(scope.role, 'order:write')
    return {
      ...{ order, recipient, today, currency, temperatureUnit, language, dispatch },
      state: orderState(facts),
      stateWords: sayOrderState(facts, today),
      lines: presentLines(order, workspace),
      balance: balanceOfOrder(order),
      items: isOpen && mayWrite ? [IN_WORDS, ...(await listItemChoices(tx, workspaceId))] : [],
      ownArea: ground?.book.rules.area ?? '',
      buyerWords: dispatch ? buyerWords({ ...order, answer: dispatch.answer, today }, language) : null,
      claim: order.arrivedAt && order.reportedAt ? claimTime(spanOf(order), order.claimHours) : null,
      mayWrite,
    }
  })
}
export type OrderPage = Awaited<ReturnType<typeof loadOrderPage>>

function spanOf({ arrivedAt, reportedAt }: OrderRow) {
  return { arrivedMs: Date.parse(arrivedAt ?? ''), reportedMs: Date.parse(reportedAt ?? '') }
}

function languageOf(asked: string | undefined, order: OrderRow, workspace: Workspace): Language {
  return [asked, order.language, workspace.language].find(isLanguage) ?? 'en'
}

function computeDispatch(order: OrderRow, ground: DispatchGround): Dispatch {
  const question = questionOf(order, ground, travellersOf(ground))
  const answer = firstDispatchDays(question)
  const codes = Object.fromEntries(question.animals.map(({ id, label }) => [id, label]))
  return { answer, ways: waysOutOf(answer, question), codes }
}

/** What a slip of an order says. */
export function loadSlip(
  slug: string,
  id: string,
  asked: { kind: SlipKind; language?: string },
): Promise<SlipPayload> {
  return loadPage({ slug, permission: 'order:read' }, async ({ tx, workspace }) => {
    const { workspaceId, name, contact, currency } = workspace
    const order = await requireOrder(tx, workspaceId, requireIdParam(id))
    const recipient = await loadRecipient(tx, workspaceId, order.id)
    const ground = await loadDispatchGround(tx, workspace, [order])
    const first =
      order.leftOn === null
        ? firstDispatchDays(questionOf(order, ground, travellersOf(ground))).days[0]
        : null
    const { kind } = asked
    const language = languageOf(asked.language, order, workspace)
    const naming = instarNamingOf(workspace)
    const { owedMinor } = balanceOfOrder(order)
    return {
      ...{ kind, language },
      seller: { name, contact },
      number: order.number,
      recipient,
      packedOn: order.leftOn ?? first?.packOn ?? null,
      arriveOn: first?.arriveOn ?? null,
      paidOn: order.paidOn,
      claimHours: order.claimHours,
      packing: first?.packing ? commonPacking([first.packing]).way : null,
      range: rangeOf(order, ground),
      owed: owedMinor > 0 ? writeMoney(owedMinor, currency, language) : null,
      lines: [
        ...presentLines(order, workspace).map(({ count, chosen, ...line }) => ({
          words: `${count} × ${orderLineText(line, naming, language)}`,
          labels: chosen.map(({ code }) => code),
        })),
        ...order.stock.map(({ quantity, description }) => ({
          words: `${quantity} × ${description}`,
          labels: [],
        })),
      ],
    }
  })
}

/** The air that every species of the order stands without any pack. */
function rangeOf({ lines }: OrderRow, { species }: DispatchGround): SlipPayload['range'] {
  const gates = lines.flatMap(({ speciesId }): TemperatureGate[] => {
    const profile = species.get(speciesId)?.profile
    return profile ? [profile.dispatch.gate.value] : []
  })
  if (gates.length === 0) return null
  return {
    lowC: Math.max(...gates.map(({ plainMinC }) => plainMinC)),
    highC: Math.min(...gates.map(({ plainMaxC }) => plainMaxC)),
  }
}
