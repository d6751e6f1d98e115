import { recordArrival, recordClaimEnd } from '@/lib/features/arrival/mutations'
import {
  endAddressLater,
  listDispatchWarnings,
  loadDispatchBook,
  loadDispatchGround,
  loadOrderTasks,
} from '@/lib/features/dispatch/data'
import { recordAir, recordClosedForSending, updateDispatchRules } from '@/lib/features/dispatch/mutations'
import {
  endAddress,
  listFreeAnimals,
  listOrders,
  loadOrdersOfAnimals,
  loadRecipient,
  loadRecipientNames,
  lockOpenOrder,
  lockOrder,
  requireOrder,
  takeOrderOn,
} from '@/lib/features/order/data'
import {
  createOrder,
  createSplitOrder,
  endOrder,
  endOrderAddress,
  updateChosenAnimals,
} from '@/lib/features/order/mutations'
import { newOrderSchema } from '@/lib/features/order/schema'
import { takeOrderBalance, takeOrderPayment } from '@/lib/features/order-payment/data'
import { createOrderPayment, reverseOrderPayment } from '@/lib/features/order-payment/mutations'
import { loadOrdersOfStock, requireOrderable, takeOrderStock } from '@/lib/features/order-stock/data'
import { updateOrderStock } from '@/lib/features/order-stock/mutations'
import { recordOrderSale } from '@/lib/features/sale/mutations'
import type { Calls } from './call'

const ON = '2026-03-20'
const WEEK = [true, true, true, false, false, false, false]
const newOrder = (species: string) => newOrderSchema.parse({ lines: [{ species, count: 1 }] })

/** Orders and their journeys. */
export const DISPATCH_READS: Calls = {
  'order/data listOrders': (tx, { workspace }, id) =>
    listOrders(tx, workspace.workspaceId, { limit: 10, cursor: id.order, state: 'left' }),
  'order/data requireOrder': (tx, { workspace }, id) => requireOrder(tx, workspace.workspaceId, id.order),
  'order/data loadRecipient': (tx, { workspace }, id) => loadRecipient(tx, workspace.workspaceId, id.order),
  'order/data loadRecipientNames': (tx, { workspace }, id) =>
    loadRecipientNames(tx, workspace.workspaceId, [id.order]),
  'order/data loadOrdersOfAnimals': (tx, { workspace }, id) =>
    loadOrdersOfAnimals(tx, workspace.workspaceId, [id.individual]),
  'order-stock/data loadOrdersOfStock': (tx, { workspace }, id) =>
    loadOrdersOfStock(tx, workspace.workspaceId, [id.eggCase, id.culture]),
  'order/data listFreeAnimals': (tx, { workspace }, id) =>
    listFreeAnimals(tx, workspace.workspaceId, { speciesIds: [id.species], limit: 9 }),
  'dispatch/data loadDispatchBook': (tx, { workspace }) =>
    loadDispatchBook(tx, workspace.workspaceId, { today: ON }),
  'dispatch/data loadDispatchGround': async (tx, { workspace }, id) =>
    loadDispatchGround(tx, workspace, [await requireOrder(tx, workspace.workspaceId, id.order)]),
  'dispatch/data loadOrderTasks': async (tx, { workspace }) => {
    const book = await loadDispatchBook(tx, workspace.workspaceId, { today: ON })
    return loadOrderTasks(tx, workspace, { animals: [], species: new Map(), zones: new Map(), book })
  },
  'dispatch/data listDispatchWarnings': async (tx, { workspace }, id) =>
    listDispatchWarnings(tx, workspace, {
      order: await requireOrder(tx, workspace.workspaceId, id.order),
      on: ON,
    }),
}

export const DISPATCH_WRITES: Calls = {
  'order/data lockOrder': (tx, { workspace }, id) => lockOrder(tx, workspace.workspaceId, id.order),
  'order/data lockOpenOrder': (tx, { workspace }, id) => lockOpenOrder(tx, workspace.workspaceId, id),
  'order/data takeOrderOn': (tx, { workspace }, id) =>
    takeOrderOn(tx, workspace.workspaceId, { id: id.order, data: { note: 'changed' } }),
  'order/data endAddress': (tx, { workspace }, id) => endAddress(tx, workspace.workspaceId, id.order),
  'dispatch/data endAddressLater': async (tx, { workspace }, id) =>
    endAddressLater(tx, workspace, {
      order: await requireOrder(tx, workspace.workspaceId, id.order),
      since: ON,
    }),
  'order/mutations createOrder': (tx, actor, id) => createOrder(tx, actor, newOrder(id.species)),
  'order/mutations updateChosenAnimals': (tx, { workspace }, id) =>
    updateChosenAnimals(tx, workspace, {
      order: id.order,
      animals: [{ line: 1, individual: id.individual }],
    }),
  'order/mutations createSplitOrder': (tx, actor, id) =>
    createSplitOrder(tx, actor, { order: id.order, version: 1, staying: [id.individual] }),
  'order-payment/data takeOrderPayment': (tx, actor, id) =>
    takeOrderPayment(tx, actor, { order: id.order, payment: { kind: 'cash', amount: 100, note: '' } }),
  'order-payment/data takeOrderBalance': (tx, { workspace }, id) =>
    takeOrderBalance(tx, workspace.workspaceId, id.order),
  'order-payment/mutations createOrderPayment': (tx, actor, id) =>
    createOrderPayment(tx, actor, { order: id.order, kind: 'cash', amount: 100, note: '' }),
  'order-payment/mutations reverseOrderPayment': (tx, actor, id) =>
    reverseOrderPayment(tx, actor, { order: id.order, payment: 1, isWaived: false, reason: 'bounced' }),
  'order-stock/data requireOrderable': (tx, { workspace }, id) =>
    requireOrderable(tx, workspace, { kind: 'egg_case', eggCase: id.eggCase, price: 1800 }),
  'order-stock/data takeOrderStock': (tx, { workspace }, id) =>
    takeOrderStock(tx, workspace, {
      ...{ order: id.order, first: 2 },
      lines: [{ kind: 'container', containerKind: id.containerKind, quantity: 1, price: 90 }],
    }),
  'order-stock/mutations updateOrderStock': (tx, { workspace }, id) =>
    updateOrderStock(tx, workspace, {
      ...{ order: id.order, remove: [1] },
      add: [{ kind: 'egg_case', eggCase: id.eggCase, price: 1800 }],
    }),
  'order/mutations endOrder': (tx, { workspace }, id) =>
    endOrder(tx, workspace, { order: id.order, reason: 'changed their mind' }),
  'order/mutations endOrderAddress': (tx, { workspace }, id) =>
    endOrderAddress(tx, workspace.workspaceId, id.sentOrder),
  'sale/mutations recordOrderSale': (tx, actor, id) =>
    recordOrderSale(tx, actor, { order: id.order, on: ON, carrier: '', note: '', payments: [] }),
  'arrival/mutations recordArrival': (tx, { workspace }, id) =>
    recordArrival(tx, workspace, {
      ...{ order: id.sentOrder, on: ON, at: '09:30', photographs: 0, note: '', animals: [] },
    }),
  'arrival/mutations recordClaimEnd': (tx, { workspace }, id) =>
    recordClaimEnd(tx, workspace, { order: id.arrivedOrder, version: 1, end: 'replacement', note: '' }),
  'dispatch/mutations updateDispatchRules': (tx, { workspace }) =>
    updateDispatchRules(tx, workspace, {
      ...{ version: 1, weekdays: WEEK, transitDays: 2, claimHours: 48, keepAddressDays: 14, area: 'DE 10' },
    }),
  'dispatch/mutations recordClosedForSending': (tx, { workspace }) =>
    recordClosedForSending(tx, workspace, { country: 'DE', on: workspace.today, isClosed: true, note: '' }),
  'dispatch/mutations recordAir': (tx, { workspace }) =>
    recordAir(tx, workspace, { area: 'DE 79', on: workspace.today, lowC: 3, highC: 9 }),
}
