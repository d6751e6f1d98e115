import { randomUUID } from 'node:crypto'
import { lockSoldItems, takeHomeCounts, takeItemsOver, takeSoldCounts } from '@/lib/features/box-item/data'
import { endBoxItem, recordBoxItem } from '@/lib/features/box-item/mutations'
import { openBuyer } from '@/lib/features/buyer/data'
import {
  listHandedPhotos,
  listHandOvers,
  loadHandedPictures,
  loadHandOverCode,
  lockHandOver,
  requireHandOver,
} from '@/lib/features/hand-over/data'
import { createHandOver, endHandOver, recordGiven, recordTakeOver } from '@/lib/features/hand-over/mutations'
import { takeSale } from '@/lib/features/receipt/data'
import {
  type BoxItemRow,
  listShowBoxes,
  loadBoxedAnimals,
  loadBoxesOfAnimals,
  loadSeriesEnd,
  lockShowBox,
  requireBoxPart,
  requireShowBox,
  takeBoxOn,
} from '@/lib/features/show-box/data'
import {
  createBoxPart,
  createShowBox,
  endBoxedAnimal,
  printBoxPapers,
  recordBoxedAnimals,
  recordBoxHome,
} from '@/lib/features/show-box/mutations'
import { recordPartTaken, recordStallReceipt, recordStallReceipts } from '@/lib/features/stall/mutations'
import { type StallReceipt, stallReceiptSchema } from '@/lib/features/stall/schema'
import type { Actor } from '@/lib/platform/workspace'
import { animalLine, plainSale } from '@/tests/support/sale'
import { DEVICE } from '../sale-stock'
import { BUYER } from './buyer'
import type { Calls, Ids } from './call'

const ON = '2026-03-20'
const DAYS = { packOn: '2026-03-18', returnOn: '2026-03-21' }

const receipt = ({ scope }: Actor, id: Pick<Ids, 'workspace' | 'showBox'>, more: object): StallReceipt =>
  stallReceiptSchema.parse({
    ...{ id: randomUUID(), workspaceId: id.workspace, personId: scope.personId, box: id.showBox },
    ...{ part: 1, series: 'S1A', device: DEVICE, number: 1, on: ON, writtenAt: '2026-03-20T10:00:00Z' },
    ...{ currency: 'EUR', taxIncluded: true, animals: [], v: 1, ...more },
  })
// What is kept of this call takes numbers of a series of its own.
const ON_OTHER_PART = {
  ...{ part: 2, series: 'S1B' },
  others: [{ description: 'A cup', quantity: 1, unitPriceMinor: 90, taxBasisPoints: 0 }],
}

const thingOf = (id: Pick<Ids, 'containerKind'>): BoxItemRow => ({
  ...{ number: 1, part: 1, kind: 'container', subjectId: id.containerKind, items: null, description: 'Cup' },
  ...{ priceMinor: 90, packed: 6, sold: 0, home: null, isOut: false },
})
/** Which thing it is does not matter where its number in the box is asked for. */
const ANYTHING = { containerKind: DEVICE }
const soldOf = (id: Pick<Ids, 'containerKind'>) => ({
  ...{ item: thingOf(id), description: 'Cup', quantity: 2, at: 'goods' },
  ...{ unitPriceMinor: 90, discountMinor: 0, taxBasisPoints: 0 },
})

export const SHOW_READS: Calls = {
  'hand-over/data listHandOvers': (tx, { workspace }, id) =>
    listHandOvers(tx, workspace.workspaceId, { id: id.handOver }),
  'hand-over/data loadHandOverCode': (tx, { workspace }, id) =>
    loadHandOverCode(tx, workspace.workspaceId, id.handOver),
  'hand-over/data requireHandOver': (tx, { workspace }, id) =>
    requireHandOver(tx, workspace.workspaceId, id.handOver),
  'hand-over/data listHandedPhotos': (tx, { workspace }, id) =>
    listHandedPhotos(tx, workspace.workspaceId, id.handOver),
  'hand-over/data loadHandedPictures': (tx, { workspace }, id) =>
    loadHandedPictures(tx, workspace.workspaceId, { id: id.handOver, photoIds: [id.photo] }),
  'hand-over/data lockHandOver': (tx, { workspace }, id) =>
    lockHandOver(tx, workspace.workspaceId, id.handOver),
  'show-box/data listShowBoxes': (tx, { workspace }, id) =>
    listShowBoxes(tx, workspace.workspaceId, { id: id.showBox }),
  'show-box/data requireShowBox': (tx, { workspace }, id) =>
    requireShowBox(tx, workspace.workspaceId, id.showBox),
  'show-box/data lockShowBox': (tx, { workspace }, id) =>
    lockShowBox(tx, workspace.workspaceId, { box: id.showBox, version: 1 }),
  'show-box/data loadBoxedAnimals': (tx, { workspace }, id) =>
    loadBoxedAnimals(tx, workspace, { ids: [id.individual], ...DAYS }),
  'show-box/data requireBoxPart': (tx, { workspace }, id) =>
    requireBoxPart(tx, workspace.workspaceId, { box: id.showBox, part: 1 }),
  'show-box/data loadSeriesEnd': (tx, { workspace }) => loadSeriesEnd(tx, workspace.workspaceId, 'S1A'),
  'show-box/data loadBoxesOfAnimals': (tx, { workspace }, id) =>
    loadBoxesOfAnimals(tx, workspace.workspaceId, [id.individual]),
}

export const SHOW_WRITES: Calls = {
  'hand-over/mutations createHandOver': (tx, actor, id) =>
    createHandOver(tx, actor, { individuals: [id.individual], toName: '', note: '' }),
  'hand-over/mutations endHandOver': (tx, { workspace }, id) =>
    endHandOver(tx, workspace, { id: id.handOver, version: 1 }),
  'hand-over/mutations recordGiven': (tx, { workspace }, id) =>
    recordGiven(tx, workspace, { id: id.handOver, to: workspace, species: new Set<string>() }),
  // With a code of its own nothing is taken: what a code of another workspace does is tried in tests/features.
  'hand-over/mutations recordTakeOver': (tx, actor, id) =>
    recordTakeOver(tx, actor, { code: 'x', containerKind: id.containerKind, zone: id.zone }),
  'buyer/data openBuyer': (tx, { workspace }) => openBuyer(tx, workspace, BUYER),
  'receipt/data takeSale': (tx, actor, id) =>
    takeSale(tx, actor, plainSale(ON, [animalLine(id.individual, 900)], { buyer: id.buyer })),
  'box-item/data lockSoldItems': (tx, { workspace }, id) =>
    lockSoldItems(tx, workspace.workspaceId, [soldOf(id)]),
  'box-item/data takeSoldCounts': (tx, { workspace }, id) =>
    takeSoldCounts(tx, workspace.workspaceId, { box: id.showBox, sold: [soldOf(ANYTHING)] }),
  'box-item/data takeHomeCounts': (tx, { workspace }, id) =>
    takeHomeCounts(tx, workspace.workspaceId, {
      ...{ box: id.showBox, items: [thingOf(ANYTHING)], counts: [{ item: 1, home: 4 }] },
    }),
  'box-item/data takeItemsOver': (tx, { workspace }, id) =>
    takeItemsOver(tx, workspace.workspaceId, { box: id.showBox, items: [thingOf(id)], from: 1, to: 2 }),
  'box-item/mutations recordBoxItem': (tx, { workspace }, id) =>
    recordBoxItem(tx, workspace, {
      ...{ box: id.showBox, version: 1, part: 1 },
      line: { kind: 'container', containerKind: id.containerKind, quantity: 2, price: 90 },
    }),
  'box-item/mutations endBoxItem': (tx, { workspace }, id) =>
    endBoxItem(tx, workspace, { box: id.showBox, version: 1, number: 1 }),
  'show-box/data takeBoxOn': async (tx, { workspace }, id) =>
    takeBoxOn(tx, workspace.workspaceId, await requireShowBox(tx, workspace.workspaceId, id.showBox)),
  'show-box/mutations createShowBox': (tx, actor, id) =>
    createShowBox(tx, actor, {
      ...{ name: 'Fair', packOn: actor.workspace.today, returnOn: actor.workspace.today, count: 2 },
      ...{ species: id.species, devices: 2, languages: ['en'] },
    }),
  'show-box/mutations endBoxedAnimal': (tx, { workspace }, id) =>
    endBoxedAnimal(tx, workspace, { box: id.showBox, version: 1, individual: id.individual }),
  'show-box/mutations recordBoxedAnimals': (tx, actor, id) =>
    recordBoxedAnimals(tx, actor, { box: id.showBox, version: 1, labels: id.label }),
  'show-box/mutations createBoxPart': (tx, { workspace }, id) =>
    createBoxPart(tx, workspace, { box: id.showBox, version: 1, from: 1 }),
  'show-box/mutations recordBoxHome': (tx, { workspace }, id) =>
    recordBoxHome(tx, workspace, { box: id.showBox, version: 1, labels: '', counts: [] }),
  'show-box/mutations printBoxPapers': (tx, actor, id) => printBoxPapers(tx, actor, { box: id.showBox }),
  'stall/mutations recordPartTaken': (tx, actor, id) =>
    recordPartTaken(tx, actor, { box: id.showBox, part: 1, device: DEVICE }),
  'stall/mutations recordStallReceipt': (tx, actor, id) =>
    recordStallReceipt(
      tx,
      actor,
      // Which workspace it is follows from the scope; whose a sent one says to be is judged with the queue.
      receipt(
        actor,
        { workspace: actor.workspace.workspaceId, showBox: id.showBox },
        {
          animals: [{ individual: id.individual, description: 'A', unitPriceMinor: 900, taxBasisPoints: 0 }],
        },
      ),
    ),
  'stall/mutations recordStallReceipts': async (_tx, actor, id) => {
    const person = { personId: String(actor.scope.personId), scopes: [actor.scope] }
    const [answer] = await recordStallReceipts(person, [receipt(actor, id, ON_OTHER_PART)])
    if (answer?.status === 'refused') throw Object.assign(new Error(answer.message), { code: answer.code })
  },
}
