import { maxDate, minDate, type PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { lastMoultOn } from '@/lib/domain/individual/record'
import { whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { isAllowed } from '@/lib/domain/role/permissions'
import { lockSoldItems, type SoldItem, takeSoldCounts } from '@/lib/features/box-item/data'
import { openBuyer } from '@/lib/features/buyer/data'
import { type IndividualRow, lockIndividuals } from '@/lib/features/individual/data'
import { takeSale } from '@/lib/features/receipt/data'
import { loadReceiptNumbers } from '@/lib/features/sale/data'
import type { NewSaleLine } from '@/lib/features/sale/schema'
import { requireBoxPart, requireShowBox } from '@/lib/features/show-box/data'
import { type StallReceipt, stallReceiptSchema, type TakePart } from '@/lib/features/stall/schema'
import type { Tx } from '@/lib/platform/db'
import { admitEntry, answerQueue, type DevicePerson, type QueueAnswer } from '@/lib/platform/device-queue'
import { AppError } from '@/lib/platform/errors'
import { runOnce } from '@/lib/platform/operation'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/**
 * Gives a part of a box to one device: it alone writes receipts of that series. The same device may ask again.
 * @throws AppError already-gone where another device has it
 */
export async function recordPartTaken(
  tx: Tx,
  { scope, workspace }: Actor,
  { box, part, device }: Omit<TakePart, 'workspaceId'>,
): Promise<void> {
  const { workspaceId } = workspace
  const now = new Date()
  const where = { workspaceId, boxId: box, number: part }
  const taken = await tx.showBoxPart.updateMany({
    where: { ...where, device: null },
    data: { device, takenAt: now, heardAt: now, takenBy: scope.personId },
  })
  if (taken.count > 0) return
  const known = await requireBoxPart(tx, workspaceId, { box, part })
  if (known.device !== device)
    throw new AppError(
      'already-gone',
      `Another device sells from part ${known.series}. Take another part, or move what is left of this one into a new part.`,
    )
  await tx.showBoxPart.updateMany({ where: { ...where, device }, data: { heardAt: now } })
}

/**
 * Takes the receipts that a device has written, in its order, each in a transaction of its own and once. One that has to
 * wait holds back the later ones of its series.
 */
export function recordStallReceipts(
  person: DevicePerson,
  receipts: readonly unknown[],
): Promise<QueueAnswer[]> {
  return answerQueue(receipts, {
    where: 'stall',
    schema: stallReceiptSchema,
    heldBy: 'series',
    apply: (receipt) => applyOnce(person, receipt),
  })
}

async function applyOnce(person: DevicePerson, receipt: StallReceipt): Promise<QueueAnswer> {
  const scope = admitEntry(person, receipt, ({ role }) => isAllowed(role, 'sale:write'))
  const request = { key: `stall:${receipt.id}`, content: receipt }
  const { value, repeated } = await runOnce(scope, request, (tx, workspace) =>
    recordStallReceipt(tx, { scope, workspace }, receipt),
  )
  const told = value.told === '' ? {} : { label: value.told }
  return { id: receipt.id, status: repeated ? 'already-applied' : 'applied', ...told }
}

/**
 * A receipt that a buyer has in hand stands, whatever happened here meanwhile. An animal that is no longer here by the
 * records stays on it as a line in words: it leaves the ledger once, by whatever came first, and this receipt says so
 * and can be taken back. So do things of the stock of which there are fewer by the records.
 * @throws AppError stale while an earlier receipt of the series has not arrived; forbidden from another device
 */
export async function recordStallReceipt(
  tx: Tx,
  actor: Actor,
  receipt: StallReceipt,
): Promise<{ sale: string; told: string }> {
  const { workspace } = actor
  const { workspaceId } = workspace
  const { box: boxId, part, device, series } = receipt
  const known = await requireBoxPart(tx, workspaceId, { box: boxId, part })
  if (known.device !== device || known.series !== series)
    throw new AppError('forbidden', 'This part of the box belongs to another device.')
  const ids = receipt.animals.map(({ individual }) => individual)
  const animals = ids.length > 0 ? await lockIndividuals(tx, workspaceId, ids) : []
  const elsewhere = await sayElsewhere(tx, workspace, animals)
  const sold = await readGoods(tx, workspaceId, receipt)
  const goods = await lockSoldItems(tx, workspaceId, sold)
  const on = dayOf(receipt.on, { animals, earliest: goods.earliest, today: workspace.today })
  const buyer = receipt.buyer && (await openBuyer(tx, workspace, { ...NOBODY, ...receipt.buyer }))
  const { value } = await takeSale(tx, actor, {
    ...{ on, discountMinor: receipt.discountMinor, payments: receipt.payments },
    ...{ certifiedNumber: receipt.certifiedNumber, buyer: buyer?.id ?? null },
    note: [receipt.note, on === receipt.on ? '' : `Written on ${writeDay(receipt.on)} by the device.`]
      .filter(Boolean)
      .join(' '),
    lines: [
      ...receipt.animals.map((line) => lineOf(line, elsewhere)),
      ...goods.lines,
      ...receipt.others.map(otherLine),
    ],
    written: {
      ...{ series, number: receipt.number, currency: receipt.currency },
      pricesIncludeTax: receipt.taxIncluded,
    },
  })
  await tx.showBoxAnimal.updateMany({
    where: { workspaceId, boxId, individualId: { in: ids } },
    data: { end: 'sold', endOn: fromPlainDate(workspace.today) },
  })
  await takeSoldCounts(tx, workspaceId, { box: boxId, sold })
  await tx.showBoxPart.updateMany({
    where: { workspaceId, boxId, number: part },
    data: { heardAt: new Date() },
  })
  const over = goods.lines.flatMap((line) => (line.told ?? []).map(({ message }) => message))
  return { sale: value.id, told: [...elsewhere.values(), ...over].join(' ') }
}

/** What is on a receipt of the things in the box; a number that the box does not know stays in words. */
async function readGoods(tx: Tx, workspaceId: WorkspaceId, receipt: StallReceipt): Promise<SoldItem[]> {
  if (receipt.goods.length === 0) return []
  const { items } = await requireShowBox(tx, workspaceId, receipt.box)
  return receipt.goods.map(({ item: number, ...line }) => ({
    ...line,
    item: items.find((one) => one.number === number) ?? null,
    at: 'goods',
  }))
}

const NOBODY = {
  email: '',
  phone: '',
  note: '',
  country: '',
  language: '',
  experience: 'unknown',
  newsConsent: false,
} as const

/** Those of them that are not here by the records, and what is said of each. */
async function sayElsewhere(
  tx: Tx,
  { workspaceId, today }: Workspace,
  animals: readonly IndividualRow[],
): Promise<Map<string, string>> {
  const gone = animals.filter(({ whereabouts }) => whereabouts !== 'single')
  if (gone.length === 0) return new Map()
  const receipts = await loadReceiptNumbers(
    tx,
    workspaceId,
    gone.map(({ id }) => id),
  )
  return new Map(
    gone.map((animal) => {
      const receipt = receipts.get(animal.id)
      const under = receipt === undefined ? '' : ` It is on receipt ${receipt} as well.`
      return [animal.id, `${whereaboutsSentence(animal, today)}${under}`]
    }),
  )
}

type Known = { animals: readonly IndividualRow[]; earliest: PlainDate | null; today: PlainDate }

/** The day on the paper, unless this device's clock or a record of what was sold says that it cannot be. */
function dayOf(on: PlainDate, known: Known): PlainDate {
  const here = known.animals.filter(({ whereabouts }) => whereabouts === 'single')
  const earliest = here.map((animal) => maxDate(animal.baselineOn, lastMoultOn(animal) ?? animal.baselineOn))
  return minDate(known.today, earliest.reduce(maxDate, maxDate(on, known.earliest ?? on)))
}

function lineOf(line: StallReceipt['animals'][number], elsewhere: ReadonlyMap<string, string>): NewSaleLine {
  const { individual, description, ...terms } = line
  const message = elsewhere.get(individual)
  if (message === undefined) return { kind: 'animal', individual, ...terms, at: 'animals' }
  const told = [{ code: 'already-gone', message }]
  return { kind: 'other', description: description.slice(0, 120), quantity: 1, ...terms, told, at: 'animals' }
}

function otherLine({ description, quantity, ...terms }: StallReceipt['others'][number]): NewSaleLine {
  return { kind: 'other', description, quantity, ...terms, overrideReason: '', at: 'others' }
}
