import { listBuyerChoices, listBuyers, requireBuyer, requireOpenBuyer } from '@/lib/features/buyer/data'
import { createBuyer, endBuyer, finishErasure, updateBuyer } from '@/lib/features/buyer/mutations'
import { loadClearances, loadOverridable } from '@/lib/features/clearance/data'
import { archiveClearance, createClearance } from '@/lib/features/clearance/mutations'
import { requireIndividual } from '@/lib/features/individual/data'
import { listOrdersOfBuyer } from '@/lib/features/order/data'
import {
  endPaperNumbers,
  listPapers,
  listPapersOfAnimals,
  listPapersOfBuyer,
  takePapers,
} from '@/lib/features/paper/data'
import { archivePaper, createPaper } from '@/lib/features/paper/mutations'
import {
  listFreeAlike,
  listPriceLists,
  loadForSale,
  loadProposedPrices,
  requirePriceList,
} from '@/lib/features/price-list/data'
import {
  archivePriceList,
  createPriceList,
  updateAnimalPrice,
  updateProposedList,
  updateStockPrice,
} from '@/lib/features/price-list/mutations'
import { loadPublicList } from '@/lib/features/public-list/data'
import { revokePublicList, updatePublicList } from '@/lib/features/public-list/mutations'
import {
  listEggCaseRegister,
  listJarRegister,
  listMovements,
  listPaperRegister,
  listRegister,
  listTaxSums,
} from '@/lib/features/register/data'
import {
  endHoldsOfSold,
  listReservations,
  listReservationsOfBuyer,
  requireReservation,
} from '@/lib/features/reservation/data'
import {
  createReservation,
  createReservationByLabels,
  endExpiredHold,
  endReservation,
} from '@/lib/features/reservation/mutations'
import { listSalesOfBuyer, loadLastSaleDay } from '@/lib/features/sale/data'
import { createSale } from '@/lib/features/sale/mutations'
import { createSaleReturn } from '@/lib/features/sale-return/mutations'
import {
  listItemChoices,
  listSellableStock,
  listStockChoices,
  takeBackStock,
  takeStock,
} from '@/lib/features/stock-line/data'
import type { StockSubject } from '@/lib/features/stock-line/schema'
import { listTaxRates } from '@/lib/features/tax-rate/data'
import { archiveTaxRate, createTaxRate } from '@/lib/features/tax-rate/mutations'
import { loadReceiptFoot, loadSellingTerms, loadTill } from '@/lib/features/till/data'
import { updateTill } from '@/lib/features/till/mutations'
import { listWishes, listWishesOfBuyer, loadWishOutlooks, requireWish } from '@/lib/features/wish/data'
import { createWish, endWish } from '@/lib/features/wish/mutations'
import { plainSale } from '@/tests/support/sale'
import { BUYER } from './buyer'
import type { Calls, Ids } from './call'

const ON = '2026-03-20'
const PERIOD = { from: '2026-01-01', until: ON }
const PAPER = { kind: 'permit' as const, number: 'P 1', on: '2026-03-01' }
const take =
  (subjectOf: (id: Ids) => StockSubject): Calls[string] =>
  (tx, actor, id) =>
    takeStock(tx, actor, { subject: subjectOf(id), on: ON, at: 'stock.0.price' })

/** Buyers, prices, holds: the shop's side. */
export const SELLING_READS: Calls = {
  'buyer/data listBuyers': (tx, { workspace }, id) =>
    listBuyers(tx, workspace.workspaceId, { limit: 10, cursor: id.buyer, search: 'a' }),
  'buyer/data listBuyerChoices': (tx, { workspace }) => listBuyerChoices(tx, workspace.workspaceId),
  'buyer/data requireBuyer': (tx, { workspace }, id) => requireBuyer(tx, workspace.workspaceId, id.buyer),
  'buyer/data requireOpenBuyer': (tx, { workspace }, id) =>
    requireOpenBuyer(tx, workspace.workspaceId, id.buyer),
  'sale/data listSalesOfBuyer': (tx, { workspace }, id) =>
    listSalesOfBuyer(tx, workspace.workspaceId, { buyerId: id.buyer }),
  'sale/data loadLastSaleDay': (tx, { workspace }, id) =>
    loadLastSaleDay(tx, workspace.workspaceId, id.buyer),
  // What a receipt of the own workspace names is put back; an id that is not here changes nothing.
  'stock-line/data takeBackStock': (tx, actor, id) =>
    takeBackStock(tx, actor, {
      line: {
        kind: 'container',
        quantity: 1,
        clutchId: null,
        eggCaseId: null,
        containerKindId: id.containerKind,
      },
      ...{ on: ON, reason: 'came back' },
    }),
  'stock-line/data listItemChoices': (tx, { workspace }) => listItemChoices(tx, workspace.workspaceId),
  'stock-line/data listSellableStock': (tx, { workspace }) => listSellableStock(tx, workspace.workspaceId),
  'stock-line/data listStockChoices': (tx, { workspace }) => listStockChoices(tx, workspace.workspaceId),
  'price-list/data loadForSale': (tx, { workspace }) => loadForSale(tx, workspace),
  'public-list/data loadPublicList': (tx, { workspace }) => loadPublicList(tx, workspace.workspaceId),
  'price-list/data listPriceLists': (tx, { workspace }) => listPriceLists(tx, workspace.workspaceId),
  'price-list/data requirePriceList': (tx, { workspace }, id) =>
    requirePriceList(tx, workspace.workspaceId, id.priceList),
  'price-list/data loadProposedPrices': (tx, { workspace }) => loadProposedPrices(tx, workspace.workspaceId),
  'price-list/data listFreeAlike': (tx, { workspace }) =>
    listFreeAlike(tx, workspace.workspaceId, { today: ON }),
  'register/data listRegister': (tx, { workspace }) => listRegister(tx, workspace.workspaceId, PERIOD),
  'clearance/data loadClearances': (tx, { workspace }, id) =>
    loadClearances(tx, workspace.workspaceId, { ids: [id.individual], on: ON }),
  'clearance/data loadOverridable': async (tx, { workspace }, id) => {
    const animal = await requireIndividual(tx, workspace.workspaceId, id.individual)
    return loadOverridable(tx, workspace, { animals: [animal], on: ON })
  },
  'register/data listEggCaseRegister': (tx, { workspace }) =>
    listEggCaseRegister(tx, workspace.workspaceId, PERIOD),
  'register/data listJarRegister': (tx, { workspace }) => listJarRegister(tx, workspace.workspaceId, PERIOD),
  'register/data listPaperRegister': (tx, { workspace }) =>
    listPaperRegister(tx, workspace.workspaceId, { ...PERIOD, limit: 100 }),
  'paper/data listPapers': (tx, { workspace }, id) =>
    listPapers(tx, workspace.workspaceId, { kind: 'sale', id: id.sale }),
  // Papers of a buyer who is not here are none: nothing is emptied.
  'paper/data endPaperNumbers': (tx, { workspace }, id) =>
    endPaperNumbers(tx, workspace.workspaceId, id.buyer),
  'register/data listTaxSums': (tx, { workspace }) => listTaxSums(tx, workspace.workspaceId, PERIOD),
  'register/data listMovements': (tx, { workspace }) =>
    listMovements(tx, workspace.workspaceId, { ...PERIOD, hasBuyers: true, limit: 100 }),
  'reservation/data listReservations': (tx, { workspace }, id) =>
    listReservations(tx, workspace.workspaceId, {
      today: ON,
      individualIds: [id.individual],
      buyerId: id.buyer,
    }),
  'reservation/data requireReservation': (tx, { workspace }, id) =>
    requireReservation(tx, workspace.workspaceId, id.reservation),
  // Holds of animals that are not here are none: nothing ends.
  'reservation/data endHoldsOfSold': (tx, { workspace }, id) =>
    endHoldsOfSold(tx, workspace.workspaceId, {
      individualIds: [id.individual],
      buyerId: id.buyer,
      on: ON,
    }),
  'reservation/data listReservationsOfBuyer': (tx, { workspace }, id) =>
    listReservationsOfBuyer(tx, workspace.workspaceId, id.buyer),
  'wish/data listWishesOfBuyer': (tx, { workspace }, id) =>
    listWishesOfBuyer(tx, workspace.workspaceId, id.buyer),
  'order/data listOrdersOfBuyer': (tx, { workspace }, id) =>
    listOrdersOfBuyer(tx, workspace.workspaceId, id.buyer),
  'paper/data listPapersOfAnimals': (tx, { workspace }, id) =>
    listPapersOfAnimals(tx, workspace.workspaceId, [id.individual]),
  'paper/data listPapersOfBuyer': (tx, { workspace }, id) =>
    listPapersOfBuyer(tx, workspace.workspaceId, id.buyer),
  'wish/data requireWish': (tx, { workspace }, id) => requireWish(tx, workspace, id.wish),
  'wish/data loadWishOutlooks': async (tx, { workspace }) =>
    loadWishOutlooks(tx, workspace, {
      wishes: await listWishes(tx, workspace.workspaceId, { today: workspace.today }),
    }),
  'wish/data listWishes': (tx, { workspace }, id) =>
    listWishes(tx, workspace.workspaceId, { today: ON, buyerId: id.buyer }),
  'tax-rate/data listTaxRates': (tx, { workspace }) => listTaxRates(tx, workspace.workspaceId),
  'till/data loadReceiptFoot': (tx, { workspace }, id) =>
    loadReceiptFoot(tx, workspace.workspaceId, { buyer: id.buyer, sale: id.sale }),
  'till/data loadSellingTerms': (tx, { workspace }) => loadSellingTerms(tx, workspace.workspaceId),
  'till/data loadTill': (tx, { workspace }) => loadTill(tx, workspace.workspaceId),
}

export const SELLING_WRITES: Calls = {
  'buyer/mutations createBuyer': (tx, { workspace }) => createBuyer(tx, workspace, BUYER),
  'buyer/mutations updateBuyer': (tx, { workspace }, id) =>
    updateBuyer(tx, workspace, { ...BUYER, id: id.buyer, version: 1 }),
  'buyer/mutations endBuyer': (tx, { workspace }, id) =>
    endBuyer(tx, workspace, { id: id.buyer, version: 1 }),
  'buyer/mutations finishErasure': (tx, { workspace }, id) => finishErasure(tx, workspace, id.buyer),
  'clearance/mutations createClearance': (tx, actor, id) =>
    createClearance(tx, actor, { individual: id.individual, on: '2026-03-01', reason: 'asked for' }),
  'clearance/mutations archiveClearance': (tx, { workspace }, id) =>
    archiveClearance(tx, workspace, { clearance: id.clearance, version: 1 }),
  'paper/data takePapers': (tx, actor, id) =>
    takePapers(tx, actor, { of: [{ individualId: id.individual }], papers: [PAPER] }),
  'paper/mutations createPaper': (tx, actor, id) =>
    createPaper(tx, actor, { subject: { kind: 'sale', id: id.sale, line: 1 }, paper: PAPER }),
  'paper/mutations createPaper, of an animal': (tx, actor, id) =>
    createPaper(tx, actor, { subject: { kind: 'individual', id: id.individual }, paper: PAPER }),
  'paper/mutations createPaper, of an egg case': (tx, actor, id) =>
    createPaper(tx, actor, { subject: { kind: 'egg_case', id: id.eggCase }, paper: PAPER }),
  'paper/mutations archivePaper': (tx, { workspace }, id) =>
    archivePaper(tx, workspace, { paper: id.paper, version: 1, side: 'went' }),
  'sale/mutations createSale, of stock': (tx, actor, id) =>
    createSale(
      tx,
      actor,
      plainSale(ON, [
        {
          ...{ kind: 'container', containerKind: id.containerKind, quantity: 2 },
          ...{
            unitPriceMinor: 90,
            discountMinor: 0,
            taxBasisPoints: 1900,
            overrideReason: '',
            at: 'stock.0.price',
          },
        },
      ]),
    ),
  'sale-return/mutations createSaleReturn': (tx, actor, id) =>
    createSaleReturn(tx, actor, {
      ...{ sale: id.sale, on: ON, reason: 'came back', lines: [{ number: 1, quantity: 1 }] },
      ...{ containerKind: id.containerKind, zone: id.zone },
    }),
  'stock-line/data takeStock, a lot': take((id) => ({
    ...{ kind: 'lot', clutch: id.clutch, males: 0, females: 0, unsexed: 1 },
  })),
  'stock-line/data takeStock, an egg case': take((id) => ({ kind: 'egg_case', eggCase: id.eggCase })),
  'stock-line/data takeStock, a culture': take((id) => ({ kind: 'culture', culture: id.culture })),
  'stock-line/data takeStock, containers': take((id) => ({
    ...{ kind: 'container', containerKind: id.containerKind, quantity: 1 },
  })),
  'stock-line/data takeStock, packs': take((id) => ({
    ...{ kind: 'pack', line: id.preyLine, quantity: 1, items: 40 },
  })),
  'public-list/mutations updatePublicList': (tx, { workspace }) =>
    updatePublicList(tx, workspace.workspaceId, { saysCounts: true }),
  'public-list/mutations revokePublicList': (tx, { workspace }) =>
    revokePublicList(tx, workspace.workspaceId, { version: 1 }),
  'price-list/mutations createPriceList': (tx, { workspace }, id) =>
    createPriceList(tx, workspace.workspaceId, { name: 'Fair', copyOf: id.priceList }),
  'price-list/mutations updateProposedList': (tx, { workspace }, id) =>
    updateProposedList(tx, workspace.workspaceId, { id: id.priceList, version: 1 }),
  'price-list/mutations archivePriceList': (tx, { workspace }, id) =>
    archivePriceList(tx, workspace.workspaceId, { id: id.priceList, version: 1 }),
  'price-list/mutations updateAnimalPrice': (tx, { workspace }, id) =>
    updateAnimalPrice(tx, workspace, { list: id.priceList, species: id.species, stage: '4', price: 19 }),
  'price-list/mutations updateStockPrice': (tx, { workspace }, id) =>
    updateStockPrice(tx, workspace, { list: id.priceList, what: `container~${id.containerKind}`, price: 1 }),
  'reservation/mutations createReservation': (tx, actor, id) =>
    createReservation(tx, actor, {
      ...{ buyer: id.buyer, individuals: [id.individual], until: actor.workspace.today },
    }),
  'reservation/mutations createReservationByLabels': (tx, actor, id) =>
    createReservationByLabels(tx, actor, {
      ...{ buyer: id.buyer, labels: id.label, until: actor.workspace.today },
    }),
  'reservation/mutations endReservation': (tx, { workspace }, id) =>
    endReservation(tx, workspace, { id: id.reservation, version: 1 }),
  'reservation/mutations endExpiredHold': (tx, { workspace }, id) =>
    endExpiredHold(tx, workspace, id.reservation),
  'wish/mutations createWish': (tx, { workspace }, id) =>
    createWish(tx, workspace, { buyer: id.buyer, species: id.species, count: 2, by: workspace.today }),
  'wish/mutations endWish': (tx, { workspace }, id) =>
    endWish(tx, workspace, { id: id.wish, version: 1, as: 'filled' }),
  'tax-rate/mutations createTaxRate': (tx, { workspace }) =>
    createTaxRate(tx, workspace.workspaceId, { name: 'Half', percent: 9.5, appliesTo: ['animal'] }),
  'tax-rate/mutations archiveTaxRate': (tx, { workspace }, id) =>
    archiveTaxRate(tx, workspace.workspaceId, { id: id.taxRate, version: 1 }),
  'till/mutations updateTill': (tx, { workspace }) =>
    updateTill(tx, workspace.workspaceId, {
      version: 1,
      pricesIncludeTax: false,
      retentionYears: 10,
      receiptWords: '',
      certifiedTill: true,
    }),
}
