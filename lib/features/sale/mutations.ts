import { inLedgerOrder, whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode } from '@/lib/domain/label/code'
import { describeForSale } from '@/lib/domain/sale/description'
import { type LeaveOfAnimal, leaveOfAnimal } from '@/lib/domain/sale/leave-of-animal'
import { requireOpenBuyer } from '@/lib/features/buyer/data'
import { endAddressLater, listDispatchWarnings } from '@/lib/features/dispatch/data'
import { loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { endStays, openStays, requirePlace } from '@/lib/features/housing/data'
import { type IndividualRow, lockIndividuals, refuseLeavingOn } from '@/lib/features/individual/data'
import { lockOpenOrder, type OrderLineRow, takeOrderOn } from '@/lib/features/order/data'
import type { Leaving } from '@/lib/features/order/schema'
import { loadReceiptNumbers, requireSale, type SaleRow } from '@/lib/features/sale/data'
import type { NewSale, NewSaleLine, Reversal } from '@/lib/features/sale/schema'
import { loadProfiles } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace } from '@/lib/platform/workspace'

type Checked = { line: NewSaleLine; animal: IndividualRow; description: string; warnings: Warning[] }

/**
 * Sells animals: one receipt, one entry in the ledger for each, their containers free again. What speaks against it
 * is recorded beside the line and answered as warnings.
 * @throws AppError already-gone when one of them is not here any more; invalid at the field for what cannot be true
 */
export async function createSale(
  tx: Tx,
  { scope, workspace }: Actor,
  sale: NewSale,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  const { on, lines } = sale
  refuseFuture('on', on, today)
  refuseTwice(lines)
  if (sale.buyer !== null) await requireOpenBuyer(tx, workspaceId, sale.buyer)
  const ids = lines.map(({ individual }) => individual)
  const animals = await lockIndividuals(tx, workspaceId, ids)
  await refuseGone(tx, workspace, animals)
  for (const animal of animals) refuseLeavingOn(animal, { on, today })
  const checked = await checkLines(tx, workspace, { sale, animals })
  await endStays(tx, workspaceId, { animals, on, today })
  const entryOf = await writeEntries(tx, { scope, workspace }, { animals, on })
  const id = await writeReceipt(tx, { scope, workspace }, { sale, checked, entryOf })
  return { value: { id }, warnings: checked.flatMap((entry) => namedWarnings(entry, checked.length)) }
}

function refuseTwice(lines: readonly NewSaleLine[]): void {
  const seen = new Set<string>()
  for (const { individual, at } of lines) {
    if (seen.has(individual)) throw refuseField(at, 'This animal is named twice.')
    seen.add(individual)
  }
}

async function refuseGone(
  tx: Tx,
  { workspaceId, today }: Workspace,
  animals: readonly IndividualRow[],
): Promise<void> {
  const gone = animals.find(({ whereabouts }) => whereabouts !== 'single')
  if (!gone) return
  const isSold = gone.whereabouts === 'sold'
  const receipt = isSold ? (await loadReceiptNumbers(tx, workspaceId, [gone.id])).get(gone.id) : undefined
  const under = receipt === undefined ? '' : ` It is on receipt ${receipt}.`
  const { id, label, whereabouts } = gone
  throw new AppError('already-gone', `${whereaboutsSentence(gone, today)}${under}`, {
    present: { individual: id, label, state: whereabouts, receiptNumber: receipt ?? null },
  })
}

async function checkLines(
  tx: Tx,
  workspace: Workspace,
  { sale, animals }: { sale: NewSale; animals: IndividualRow[] },
): Promise<Checked[]> {
  const { workspaceId } = workspace
  const listed = [...(await loadProfiles(tx, workspaceId)).values()]
  const zones = await loadZonesById(tx, workspaceId)
  const profiles = await loadGrownSpecies(tx, workspaceId, { species: listed, zones, animals })
  const naming = instarNamingOf(workspace)
  const byId = new Map(animals.map((animal) => [animal.id, animal]))
  return sale.lines.map((line) => {
    const animal = byId.get(line.individual)
    const species = animal && profiles.get(animal.speciesId)
    if (!animal || !species) throw refuseUnknown('animal')
    const found = leaveOfAnimal(animal, { ...species, zones, naming, today: sale.on })
    const description = describeForSale(animal, { species, naming })
    return { line, animal, description, warnings: readWarnings(found) }
  })
}

function readWarnings({ leave }: LeaveOfAnimal): Warning[] {
  return [...leave.blocks, ...leave.warnings].map(({ code, message }) => ({ code, message }))
}

function namedWarnings({ animal, warnings }: Checked, lines: number): Warning[] {
  if (lines === 1) return warnings
  return warnings.map(({ code, message }) => ({ code, message: `${formatCode(animal.label)}: ${message}` }))
}

async function writeEntries(
  tx: Tx,
  { scope, workspace }: Actor,
  { animals, on }: { animals: IndividualRow[]; on: string },
): Promise<Map<string, string>> {
  const { workspaceId } = workspace
  const entries = await tx.headCountEntry.createManyAndReturn({
    data: inLedgerOrder(animals).map(({ id, clutchId }) => ({
      workspaceId,
      clutchId,
      individualId: id,
      from: 'single' as const,
      to: 'sold' as const,
      count: 1,
      on: fromPlainDate(on),
      recordedBy: scope.personId,
    })),
    select: { id: true, individualId: true },
  })
  return new Map(entries.map(({ id, individualId }) => [individualId ?? '', id]))
}

/** The number is taken last, so that sellers wait for each other as briefly as a gapless series allows. */
async function writeReceipt(
  tx: Tx,
  { scope, workspace }: Actor,
  written: { sale: NewSale; checked: Checked[]; entryOf: ReadonlyMap<string, string> },
): Promise<string> {
  const { workspaceId, currency } = workspace
  const { sale, checked, entryOf } = written
  const made = await tx.sale.create({
    data: {
      workspaceId,
      receiptNumber: await takeNumbers(tx, workspaceId, { name: 'receipt', count: 1 }),
      on: fromPlainDate(sale.on),
      currency,
      totalMinor: sale.lines.reduce((sum, line) => sum + line.priceMinor, 0),
      note: sale.note,
      buyerId: sale.buyer,
      soldBy: scope.personId,
    },
    select: { id: true },
  })
  await tx.saleLine.createMany({
    data: checked.map(({ line, animal, description, warnings }, index) => ({
      workspaceId,
      saleId: made.id,
      number: index + 1,
      individualId: animal.id,
      entryId: entryOf.get(animal.id) ?? '',
      description,
      priceMinor: line.priceMinor,
      overrideReason: line.overrideReason,
      warnings,
    })),
  })
  return made.id
}

/**
 * Takes a whole sale back. Its number stays used, its animals are here again, each in a container.
 * @throws AppError already-reversed the second time
 */
export async function reverseSale(
  tx: Tx,
  { scope, workspace }: Actor,
  reversal: Reversal,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  const { on, reason } = reversal
  refuseFuture('on', on, today)
  const sale = await requireSale(tx, workspaceId, reversal.sale)
  const individualIds = sale.entries.map(({ individualId }) => individualId)
  await lockIndividuals(tx, workspaceId, individualIds)
  if (on < sale.on) throw refuseField('on', 'This day is before the sale.')
  // Whoever comes second meets the key of the first one's row.
  await tx.saleReversal.create({ data: { workspaceId, saleId: sale.id, on: fromPlainDate(on), reason } })
  const place = await requirePlace(tx, workspaceId, { ...reversal, animals: individualIds.length })
  await tx.headCountEntry.createMany({
    data: inLedgerOrder(returning(sale)).map(({ id, entryId, clutchId }) => ({
      workspaceId,
      clutchId,
      individualId: id,
      from: 'sold' as const,
      to: 'single' as const,
      count: 1,
      on: fromPlainDate(on),
      note: reason,
      reverses: entryId,
      recordedBy: scope.personId,
    })),
  })
  await openStays(tx, workspaceId, { individualIds, place, on })
  return { value: { id: sale.id }, warnings: place.warnings }
}

function returning(sale: SaleRow) {
  return sale.entries.map(({ id, individualId, clutchId }) => ({ id: individualId, entryId: id, clutchId }))
}

/**
 * Packed and sent, or handed over: an order with an animal for every place becomes a sale. What spoke against the day
 * is kept and answered, and refuses nothing.
 * @throws AppError invalid while a place is empty; already-recorded the second time
 */
export async function recordOrderSale(
  tx: Tx,
  actor: Actor,
  { order: id, version, on, carrier, note }: Omit<Leaving, 'version'> & { version?: number },
): Promise<Warned<{ id: string }>> {
  const { workspace } = actor
  const { workspaceId, today } = workspace
  const order = await lockOpenOrder(tx, workspaceId, { order: id, version })
  refuseFuture('on', on, today)
  if (on < order.orderedOn) throw refuseField('on', 'This is before it was ordered.')
  const short = order.lines.find(({ count, chosen }) => chosen.length < count)
  if (short) throw refuseEmptyPlaces(short)
  const against = await listDispatchWarnings(tx, workspace, { order, on })
  const lines = order.lines.flatMap(({ chosen, priceMinor }) =>
    chosen.map(({ id: individual }) => ({ individual, priceMinor, overrideReason: '', at: 'on' })),
  )
  const words = [`Order ${order.number}`, note].filter(Boolean).join('. ')
  const sale = await createSale(tx, actor, { on, lines, note: words, buyer: order.buyerId })
  const warnings = [...against, ...sale.warnings]
  const data = { leftOn: fromPlainDate(on), carrier, saleId: sale.value.id, warnings }
  await takeOrderOn(tx, workspaceId, { id, data })
  await endAddressLater(tx, workspace, { order, since: on })
  return { value: sale.value, warnings }
}

function refuseEmptyPlaces({ number, chosen, count }: OrderLineRow): AppError {
  return new AppError(
    'invalid',
    `Line ${number} has ${chosen.length} of ${count} animals. Choose the others, or split the order.`,
  )
}
