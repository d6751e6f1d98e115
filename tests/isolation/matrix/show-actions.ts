import type { Ids } from '../calls/call'

type Inputs = Record<string, (id: Ids) => unknown>
const ON = '2026-03-20'
const TODAY = new Date().toISOString().slice(0, 10)

export const SHOWING: Inputs = {
  'show-box/actions createShowBoxAction': () => ({
    ...{ name: 'Fair', packOn: TODAY, returnOn: TODAY, count: 2, species: '', devices: '1' },
    languages: { en: true },
  }),
  'show-box/actions endBoxedAnimalAction': (id) => ({
    ...{ box: id.showBox, version: 1, individual: id.individual },
  }),
  'show-box/actions boxMoreAction': (id) => ({ box: id.showBox, version: 1, labels: id.label }),
  'box-item/actions packItemAction': (id) => ({
    ...{
      box: id.showBox,
      version: 1,
      part: '1',
      item: `container~${id.containerKind}`,
      quantity: 2,
      price: 1,
    },
  }),
  'box-item/actions unpackItemAction': (id) => ({ box: id.showBox, version: 1, number: 1 }),
  'show-box/actions createBoxPartAction': (id) => ({ box: id.showBox, version: 1, from: 1 }),
  'show-box/actions settleBoxAction': (id) => ({ box: id.showBox, version: 1, labels: '' }),
}

export const BOX_PRINTING: Inputs = {
  'show-box/actions printBoxPapersAction': (id) => ({ box: id.showBox }),
}

export const HANDING_OVER: Inputs = {
  'hand-over/actions createHandOverAction': (id) => ({ individuals: [id.individual] }),
  'hand-over/actions endHandOverAction': (id) => ({ id: id.handOver, version: 1 }),
  'hand-over/actions takeOverAction': (id) => ({ code: 'x', containerKind: id.containerKind, zone: id.zone }),
}

export const ORDER_GOODS: Inputs = {
  'order-payment/actions createOrderPaymentAction': (id) => ({
    order: id.order,
    version: 1,
    kind: 'card',
    amount: 2,
    on: ON,
  }),
  'order-payment/actions reverseOrderPaymentAction': (id) => ({
    order: id.order,
    version: 2,
    payment: 1,
    kind: 'cash',
    amount: 1,
    on: ON,
    reason: 'too much',
  }),
  'order-stock/actions addOrderStockAction': (id) => ({
    order: id.order,
    version: 3,
    item: `container~${id.containerKind}`,
    price: 1,
  }),
  'order-stock/actions removeOrderStockAction': (id) => ({ order: id.order, version: 4, number: 2 }),
}
