import type { Permission } from '@/lib/domain/role/permissions'
import type { Ids } from '../calls/call'
import { DELETING, TAKING_BACK } from './archive-actions'
import { FOOD_ACTIONS } from './food-actions'
import { HOUSING_ACTIONS } from './housing-actions'
import { PAGE_CLOSING, PHOTO_KEEPING, SHEET_PRINTING } from './sheet-actions'
import { BOX_PRINTING, HANDING_OVER, ORDER_GOODS, SHOWING } from './show-actions'

/** A permission in the workspace that the call names; or `signed-in` or `everybody` for the few outside of any. */
export type ActionRow = { guard: Permission | 'signed-in' | 'everybody'; input: (id: Ids) => unknown }

/** Refused to us as well: something stands in it, it stands there already, or this is not our password. */
export const REFUSED_BY_THE_TRADE = [
  'hand-over/actions takeOverAction',
  // Nothing keeps the one animal here, as far as anybody knows.
  'clearance/actions createClearanceAction',
  // The one paper of the stock went with a receipt.
  'paper/actions archiveOriginPaperAction',
  // The one animal of the stock is in a box, and may have been sold by the calls that went before.
  'show-box/actions createShowBoxAction',
  'show-box/actions boxMoreAction',
  'show-box/actions printBoxPapersAction',
  'workspace-archive/actions archiveWorkspaceAction',
  'clutch/actions moveClutchAction',
  'colony/actions recordColonyEntryAction',
  'colony/actions recordColonyMoveAction',
  'container/actions archiveContainerKindAction',
  'egg-case/actions moveEggCaseAction',
  'person/actions changePasswordAction',
  'person/actions confirmSecondFactorAction',
  'person/actions endSecondFactorAction',
  'person/actions renewRecoveryCodesAction',
  // The buyer has been forgotten by the calls of the API that went before.
  'reservation/actions createReservationAction',
  'wish/actions createWishAction',
  'zone/actions archiveZoneAction',
]

const ON = '2026-03-20'
const TOMORROW = new Date(Date.now() + 86_400_000).toISOString().slice(0, 10)
const PAPER = { kind: 'permit', number: 'P 1', on: ON }
const RECENTLY = '2026-06-22'
const place = (id: Ids) => ({ containerKind: id.containerKind, zone: id.zone })
const KIND = { name: 'Tub', volumeMl: 500, innerHeightMm: 120, innerWidthMm: 80, single: true, stock: 4 }
const SETTINGS = {
  version: 1,
  name: 'Okapi mantids',
  country: 'DE',
  timeZone: 'Europe/Berlin',
  language: 'en',
  instarConvention: 'hatchling_is_first',
  instarStyle: 'ordinal',
  temperatureUnit: 'celsius',
  lengthUnit: 'millimetre',
}

function rows(
  guard: ActionRow['guard'],
  inputs: Record<string, ActionRow['input']>,
): Record<string, ActionRow> {
  return Object.fromEntries(Object.entries(inputs).map(([name, input]) => [name, { guard, input }]))
}

export const ACTIONS: Record<string, ActionRow> = {
  ...rows('workspace:copy', DELETING),
  ...rows('signed-in', TAKING_BACK),
  ...rows('everybody', {
    'person/actions signUpAction': () => ({
      name: 'New Person',
      email: 'new.person@example.test',
      password: 'a long enough one',
    }),
    'person/actions askForResetAction': () => ({ email: 'nobody.at.all@example.test' }),
    'person/actions resetPasswordAction': () => ({ token: 'x'.repeat(43), password: 'a long enough one' }),
    'person/actions confirmAddressAction': () => ({ token: 'x'.repeat(43) }),
  }),
  ...rows('signed-in', {
    'person/actions askForConfirmationAction': () => ({}),
    'person/actions endDeviceAction': (id) => ({ id: id.person }),
    'person/actions startSecondFactorAction': () => ({}),
    'person/actions confirmSecondFactorAction': () => ({ code: '000 000' }),
    'person/actions renewRecoveryCodesAction': () => ({ current: 'not the one' }),
    'person/actions endSecondFactorAction': () => ({ current: 'not the one' }),
    'person/actions changePasswordAction': () => ({ current: 'not the one', password: 'a long enough one' }),
    'invitation/actions acceptInvitationAction': () => ({ token: 'x'.repeat(43) }),
    'workspace/actions createWorkspaceAction': () => ({
      name: 'Third lane',
      slug: 'third-lane',
      country: 'DE',
      timeZone: 'Europe/Berlin',
      currency: 'EUR',
      language: 'en',
    }),
  }),
  ...rows('zone:write', {
    'zone/actions createZoneAction': () => ({ name: 'Loft', setTemperatureC: 22 }),
    'zone/actions updateZoneAction': (id) => ({
      id: id.zone,
      version: 1,
      name: 'Warm room',
      walkingOrder: 1,
    }),
    'zone/actions recordSetPointAction': (id) => ({ zoneId: id.zone, from: ON, dayC: 25 }),
    'zone/actions recordQuarantineAction': (id) => ({ id: id.zone, version: 2, reason: '' }),
    'zone/actions archiveZoneAction': (id) => ({ id: id.zone, version: 9 }),
    'reading/actions recordTypedReadingAction': (id) => ({
      zoneId: id.zone,
      on: ON,
      time: '11:30',
      temperature: 25,
      unit: 'celsius',
    }),
    'reading/actions recordPastedReadingsAction': (id) => ({
      zoneId: id.zone,
      text: '2026-03-20 12:00 25.3',
      unit: 'celsius',
    }),
    'reading/actions archiveReadingBatchAction': (id) => ({ batchId: id.readingBatch }),
    'watch/actions recordWatchAction': (id) => ({
      zoneId: id.zone,
      version: 1,
      highC: 31,
      delayMinutes: 5,
      watchers: [id.person],
    }),
  }),
  ...rows('incident:take', {
    'incident/actions takeIncidentAction': (id) => ({ id: id.incident }),
    'incident/actions updateIncidentNoteAction': (id) => ({ id: id.incident, version: 1, note: 'a fan' }),
  }),
  ...rows('container:write', {
    'container/actions createContainerKindAction': () => KIND,
    'container/actions updateContainerKindAction': (id) => ({
      id: id.containerKind,
      version: 1,
      name: 'Cup',
      stock: 30,
    }),
    'container/actions createContainerOrderAction': (id) => ({
      kindId: id.containerKind,
      count: 5,
      on: TOMORROW,
    }),
    'container/actions recordArrivalAction': (id) => ({ orderId: id.containerOrder }),
    'container/actions archiveContainerKindAction': (id) => ({ id: id.containerKind, version: 9 }),
  }),
  ...rows('species:write', {
    'species/actions createSpeciesAction': (id) => ({
      scientificName: 'Tenodera nova',
      kind: 'mantis',
      likeId: id.species,
    }),
    'species/actions changeProfileValueAction': (id) => ({
      speciesId: id.species,
      version: 1,
      path: 'growth.siblingLogSd.value',
      value: 0.2,
    }),
  }),
  ...rows('egg-case:write', {
    'egg-case/actions createEggCaseAction': (id) => ({
      species: id.species,
      zone: id.zone,
      known: 'laid-on',
      laidOn: ON,
    }),
    'egg-case/actions recordHatchAction': (id) => ({ eggCase: id.eggCase, on: ON, count: 3 }),
    'egg-case/actions moveEggCaseAction': (id) => ({ eggCase: id.eggCase, zone: id.zone, on: ON }),
    'egg-case/actions updateColdRestAction': (id) => ({ eggCase: id.eggCase, version: 1, startOn: ON }),
    'egg-case/actions endEggCaseAction': (id) => ({
      eggCase: id.eggCase,
      version: 2,
      on: '2026-05-01',
      end: 'spent',
    }),
    'egg-case/actions reopenEggCaseAction': (id) => ({ eggCase: id.eggCase, version: 3 }),
  }),
  ...HOUSING_ACTIONS,
  ...rows('clutch:write', {
    'clutch/actions recordLossAction': (id) => ({ clutch: id.clutch, on: ON, count: 1 }),
    'clutch-observation/actions recordClutchObservationAction': (id) => ({
      clutch: id.clutch,
      on: ON,
      moulted: 'some',
    }),
    'clutch-observation/actions archiveClutchObservationAction': (id) => ({
      observation: id.observation,
      version: 1,
    }),
    'clutch/actions recordRecountAction': (id) => ({ clutch: id.clutch, on: ON, counted: 1 }),
    'clutch/actions correctCountAction': (id) => ({ clutch: id.clutch, on: ON, hatched: 9 }),
    'clutch/actions recordFoundAgainAction': (id) => ({ clutch: id.clutch, on: ON, count: 1 }),
    'clutch/actions reverseEntryAction': (id) => ({ clutch: id.clutch, entry: id.entry }),
    'clutch/actions moveClutchAction': (id) => ({ clutch: id.clutch, zone: id.zone, on: ON }),
    'housing/actions houseClutchAction': (id) => ({ clutch: id.clutch, zone: id.zone, on: RECENTLY }),
    'separation/actions startSeparationAction': (id) => ({
      clutch: id.clutch,
      ...place(id),
      on: ON,
      planned: 1,
    }),
  }),
  ...FOOD_ACTIONS,
  ...rows('individual:clear', {
    'clearance/actions createClearanceAction': (id) => ({ individual: id.individual, reason: 'asked for' }),
    'clearance/actions archiveClearanceAction': (id) => ({ clearance: id.clearance, version: 1 }),
  }),
  ...rows('individual:write', {
    'individual/actions createIndividualsAction': (id) => ({
      species: id.species,
      on: ON,
      origin: 'bought',
      stage: '3',
      ...place(id),
    }),
    'paper/actions recordOriginPaperAction': (id) => ({ subject: 'individual', id: id.individual, ...PAPER }),
    'paper/actions archiveOriginPaperAction': (id) => ({ paper: id.paper, version: 1 }),
    'individual/actions recordSexingAction': (id) => ({
      individual: id.individual,
      version: 1,
      sex: 'female',
      certainty: 'probable',
    }),
    'individual/actions updateIndividualNoteAction': (id) => ({
      individual: id.individual,
      version: 2,
      notes: 'calm',
    }),
    'moult/actions recordMoultsAction': (id) => ({ individuals: [id.individual], on: '2026-06-20' }),
    'moult/actions recordRoundShelfAction': (id) => ({
      round: '019b7a00-0000-7000-8000-000000000001',
      on: '2026-03-09',
      skins: [],
      passed: [id.individual],
    }),
    'look/actions recordSignsAction': (id) => ({
      individuals: [id.individual],
      on: ON,
      sign: 'refuses_food',
    }),
    'look/actions archiveSignsAction': (id) => ({ individual: id.individual, on: '2026-03-11' }),
    'moult/actions archiveMoultRoundAction': (id) => ({ round: id.moultRound }),
    'moult/actions archiveMoultAction': (id) => ({ moult: id.moult, version: 1 }),
    'moult/actions updateMoultDayAction': (id) => ({ moult: id.moult, version: 1, on: '2026-03-08' }),
    'moult/actions confirmMoultDayAction': (id) => ({ moult: id.moult, version: 1, isRight: true }),
    'feeding/actions recordFeedingsAction': (id) => ({ individuals: [id.individual], on: ON, result: 'ate' }),
  }),
  ...rows('individual:place', {
    'housing/actions recordMovesAction': (id) => ({
      individuals: [id.individual],
      on: ON,
      containerKind: 'same',
      zone: id.zone,
    }),
    'housing/actions recordMovesUpAction': (id) => ({
      on: ON,
      moves: [{ individual: id.individual, containerKind: id.containerKind }],
    }),
    'departure/actions returnIndividualAction': (id) => ({
      individual: id.gone,
      on: '2026-06-01',
      ...place(id),
    }),
    'departure/actions recordLeavingAction': (id) => ({
      individuals: [id.gone],
      on: '2026-06-02',
      to: 'dead',
    }),
  }),
  ...rows('order:write', {
    'order/actions createOrderAction': (id) => ({
      way: 'sent',
      lines: [{ species: id.species, stage: 'any', count: 1, price: 12 }],
    }),
    ...ORDER_GOODS,
    'order/actions splitOrderAction': (id) => ({ order: id.order, version: 5, staying: [id.individual] }),
    'sale/actions sellOrderAction': (id) => ({ order: id.order, version: 6, on: RECENTLY }),
    'order/actions cancelOrderAction': (id) => ({
      order: id.order,
      version: 4,
      reason: 'changed their mind',
    }),
    'order/actions chooseAnimalsAction': (id) => ({
      order: id.order,
      version: 9,
      animals: [{ line: 1, individual: id.individual }],
    }),
    'arrival/actions recordArrivalAction': (id) => ({ order: id.sentOrder, version: 1, on: ON }),
    'arrival/actions recordClaimEndAction': (id) => ({ order: id.arrivedOrder, version: 1, end: 'nothing' }),
    'dispatch/actions updateDispatchRulesAction': () => ({
      version: 1,
      weekdays: [true, true, true, false, false, false, false],
      transitDays: 1,
      claimHours: 24,
      keepAddressDays: 30,
      area: 'DE 79',
    }),
    'dispatch/actions recordClosedForSendingAction': () => ({ country: 'DE', on: TOMORROW }),
    'dispatch/actions recordAirAction': () => ({ area: 'DE 79', on: TOMORROW, lowC: 2, highC: 9 }),
  }),
  ...rows('price-list:write', {
    'price-list/actions createPriceListAction': (id) => ({ name: 'Fair', copyOf: id.priceList }),
    'price-list/actions proposePriceListAction': (id) => ({ id: id.priceList, version: 1 }),
    'price-list/actions updateAnimalPriceAction': (id) => ({
      list: id.priceList,
      species: id.species,
      stage: '4',
      price: 19,
    }),
    'price-list/actions updateStockPriceAction': (id) => ({
      list: id.priceList,
      what: `container~${id.containerKind}`,
      price: 1,
    }),
    'price-list/actions archivePriceListAction': (id) => ({ id: id.priceList, version: 2 }),
  }),
  ...rows('reservation:write', {
    'reservation/actions endReservationAction': (id) => ({ id: id.reservation, version: 1 }),
    'reservation/actions createReservationAction': (id) => ({
      buyer: id.buyer,
      labels: id.label,
      until: TOMORROW,
    }),
    'wish/actions createWishAction': (id) => ({
      buyer: id.buyer,
      species: id.species,
      count: 2,
      by: TOMORROW,
    }),
    'wish/actions endWishAction': (id) => ({ id: id.wish, version: 1, as: 'filled' }),
  }),
  ...rows('buyer:write', {
    'buyer/actions createBuyerAction': () => ({ name: 'Anyone' }),
    'buyer/actions updateBuyerAction': (id) => ({ id: id.buyer, version: 1, name: 'Anyone else' }),
    'buyer/actions eraseBuyerAction': (id) => ({ id: id.buyer, version: 2 }),
  }),
  ...rows('till:write', {
    'till/actions updateTillAction': () => ({ version: 1, retentionYears: 10 }),
    'tax-rate/actions createTaxRateAction': () => ({ name: 'Half', percent: 9.5, appliesTo: ['pack'] }),
    'tax-rate/actions archiveTaxRateAction': (id) => ({ id: id.taxRate, version: 1 }),
  }),
  ...rows('sale:write', {
    ...SHOWING,
    'paper/actions recordSalePaperAction': (id) => ({ sale: id.sale, ...PAPER }),
    'paper/actions archiveSalePaperAction': (id) => ({ paper: id.paper, version: 1 }),
    'sale-return/actions createSaleReturnAction': (id) => ({
      sale: id.sale,
      on: ON,
      reason: 'came back',
      lines: [{ number: 1, quantity: 1 }],
      ...place(id),
    }),
    'sale/actions createSaleAction': (id) => ({
      lines: [{ individual: id.individual, price: 12, overrideReason: 'asked for' }],
    }),
    'sale-return/actions reverseSaleAction': (id) => ({
      sale: id.sale,
      on: '2026-05-01',
      reason: 'came back',
      ...place(id),
    }),
  }),
  ...rows('care-sheet:print', { ...SHEET_PRINTING, ...BOX_PRINTING }),
  ...rows('individual:write', { ...PHOTO_KEEPING, ...HANDING_OVER }),
  ...rows('public-link:revoke', PAGE_CLOSING),
  ...rows('token:manage', {
    'api-token/actions createApiTokenAction': () => ({ name: 'till', role: 'viewer', days: 3 }),
    'api-token/actions revokeApiTokenAction': (id) => ({ id: id.apiToken }),
  }),
  ...rows('person:manage', {
    'invitation/actions createInvitationAction': () => ({ email: 'guest@example.test', role: 'viewer' }),
    'invitation/actions revokeInvitationAction': (id) => ({ id: id.invitation }),
    'workspace/actions requireSecondFactorAction': () => ({ isRequired: false }),
    'membership/actions changeRoleAction': (id) => ({ personId: id.person, version: 9, role: 'keeper' }),
    'membership/actions endMembershipAction': (id) => ({ personId: id.person }),
  }),
  ...rows('workspace:write', {
    'workspace/actions updateWorkspaceAction': () => SETTINGS,
    'public-list/actions publishListAction': () => ({ saysCounts: true }),
    'public-list/actions closeListAction': () => ({ version: 2 }),
    'workspace/actions changeSlugAction': () => ({ version: 2, slug: 'okapi-lane' }),
  }),
}
