import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode, parseCode } from '@/lib/domain/label/code'
import { seriesOfPart } from '@/lib/domain/sale/receipt-number'
import { chooseForBox, dealToParts } from '@/lib/domain/show-box/choose'
import { settleBox } from '@/lib/domain/show-box/settle'
import { takeHomeCounts, takeItemsOver } from '@/lib/features/box-item/data'
import { readSheetChoice } from '@/lib/features/care-sheet/data'
import { loadIndividualsByLabel, lockIndividuals } from '@/lib/features/individual/data'
import { listFreeAnimals } from '@/lib/features/order/data'
import { openPublicLinks } from '@/lib/features/public-link/data'
import { loadReceiptNumbers } from '@/lib/features/sale/data'
import { openSheetRecords } from '@/lib/features/sheet-record/data'
import {
  loadBoxedAnimals,
  lockShowBox,
  requireShowBox,
  type ShowBoxRow,
  takeBoxOn,
} from '@/lib/features/show-box/data'
import {
  type BoxingMore,
  type BoxPapers,
  type BoxSettled,
  MOST_BOXED,
  type NewShowBox,
  readLabels,
  type Settling,
  type Unboxing,
} from '@/lib/features/show-box/schema'
import { loadSpeciesById } from '@/lib/features/species/data'
import { isLanguage } from '@/lib/messages/language'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** More are not looked at: more than any box holds. */
const CANDIDATES = 400

/**
 * Packs a box: the safest animals that are free, shared out over so many devices. Fewer than asked for where there are
 * not as many, which is told. @throws AppError invalid where nobody may travel, and for days that are over
 */
export async function createShowBox(
  tx: Tx,
  { scope, workspace }: Actor,
  { name, packOn, returnOn, count, species, devices, languages }: NewShowBox,
): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = workspace
  if (returnOn < today) throw refuseField('returnOn', `This day is over: today is ${writeDay(today)}.`)
  const speciesIds = species ? [species] : [...(await loadSpeciesById(tx, workspaceId)).keys()]
  const free = await listFreeAnimals(tx, workspaceId, { speciesIds, limit: CANDIDATES })
  const rows = await loadBoxedAnimals(tx, workspace, { ids: free, packOn, returnOn })
  const fit = rows
    .filter(({ check }) => check.why === null)
    .map(({ animal, kind, check }) => ({ id: animal.id, kind, chance: check.chance }))
  const chosen = chooseForBox(fit, count)
  if (chosen.length === 0)
    throw refuseField('count', 'Of the animals that are free, none may travel on these days.')
  const number = await takeNumbers(tx, workspaceId, { name: 'show-box', count: 1 })
  const { id } = await tx.showBox.create({
    data: {
      ...{ workspaceId, number, name, languages, madeBy: scope.personId },
      ...{ packOn: fromPlainDate(packOn), returnOn: fromPlainDate(returnOn) },
    },
    select: { id: true },
  })
  await tx.showBoxPart.createMany({
    data: Array.from({ length: devices }, (_, index) => ({
      ...{ workspaceId, boxId: id, number: index + 1, series: seriesOfPart(number, index + 1) },
    })),
  })
  const dealt = dealToParts(chosen, devices)
  await tx.showBoxAnimal.createMany({
    data: [...dealt]
      .toSorted(inIdOrder)
      .map(([individualId, partNumber]) => ({ workspaceId, boxId: id, individualId, partNumber })),
  })
  return { value: { id }, warnings: warnOfFewer(chosen.length, count) }
}

function warnOfFewer(found: number, count: number): Warning[] {
  if (found >= count) return []
  return [{ code: 'fewer', message: `Only ${found} of ${count} may travel on these days and are free.` }]
}

/** Always in one order, so that two boxes that want the same animals wait for each other. */
const inIdOrder = ([one]: [string, number], [other]: [string, number]) => one.localeCompare(other)

async function putIn(
  tx: Tx,
  workspaceId: WorkspaceId,
  { box, ids, part: partNumber }: { box: ShowBoxRow; ids: readonly string[]; part: number },
): Promise<void> {
  const before = new Set(box.animals.map(({ individualId }) => individualId))
  const key = { workspaceId, boxId: box.id }
  const sorted = ids.toSorted((one, other) => one.localeCompare(other))
  await tx.showBoxAnimal.updateMany({
    where: { ...key, individualId: { in: sorted.filter((id) => before.has(id)) } },
    data: { partNumber, end: null, endOn: null },
  })
  await tx.showBoxAnimal.createMany({
    data: sorted
      .filter((id) => !before.has(id))
      .map((individualId) => ({ ...key, individualId, partNumber })),
  })
}

/** One stays at home after all. @throws AppError stale, not-found */
export async function endBoxedAnimal(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { individual, ...which }: Unboxing,
): Promise<{ version: number }> {
  const box = await lockShowBox(tx, workspaceId, which)
  const out = await tx.showBoxAnimal.updateMany({
    where: { workspaceId, boxId: box.id, individualId: individual, end: null },
    data: { end: 'left_out', endOn: fromPlainDate(today) },
  })
  if (out.count === 0) throw refuseUnknown('animal in this box')
  return { version: await takeBoxOn(tx, workspaceId, box) }
}

/**
 * Some more go in, chosen by hand; what speaks against them is told and refuses nothing.
 * @throws AppError invalid at the labels; already-gone for whoever is in another box
 */
export async function recordBoxedAnimals(
  tx: Tx,
  { workspace }: Actor,
  { labels, ...which }: BoxingMore,
): Promise<Warned<{ version: number }>> {
  const { workspaceId } = workspace
  const box = await lockShowBox(tx, workspaceId, which)
  const codes = readCodes(labels)
  const found = await loadIndividualsByLabel(tx, workspaceId, codes)
  const missing = codes.find((code) => !found.has(code))
  if (missing) throw refuseField('labels', `No animal here carries ${formatCode(missing)}.`)
  const gone = [...found.values()].find(({ whereabouts }) => whereabouts !== 'single')
  if (gone) throw refuseField('labels', `${formatCode(gone.label)} is not here, or not by itself.`)
  const inside = new Set(box.animals.filter(({ end }) => end === null).map((one) => one.individualId))
  const ids = [...found.values()].map(({ id }) => id).filter((id) => !inside.has(id))
  if (inside.size + ids.length > MOST_BOXED) throw refuseField('labels', `A box holds ${MOST_BOXED} at most.`)
  const rows = await loadBoxedAnimals(tx, workspace, { ids, ...box })
  await putIn(tx, workspaceId, { box, ids, part: emptiestPart(box) })
  const warnings = rows.flatMap(({ animal, check }) =>
    check.why ? [{ code: 'against', message: `${formatCode(animal.label)}: ${check.why}` }] : [],
  )
  return { value: { version: await takeBoxOn(tx, workspaceId, box) }, warnings }
}

function readCodes(labels: string): string[] {
  const codes = readLabels(labels).map((label) => {
    const parsed = parseCode(label)
    if (parsed.status === 'ok' && parsed.kind === 'individual') return parsed.code
    throw refuseField('labels', `“${label}” is no label of an animal. They look like K7Q 97.`)
  })
  return [...new Set(codes)]
}

/** One that no device has taken yet, if there is one: such a device would not know of the newcomers. */
function emptiestPart({ parts }: ShowBoxRow): number {
  const sorted = parts.toSorted(
    (a, b) => Number(a.device !== null) - Number(b.device !== null) || a.animals - b.animals,
  )
  return sorted[0]?.number ?? 1
}

/**
 * A device is lost or broken: whoever of its part has not been sold goes into a new one, with a series of its own. What
 * that device has not sent yet is taken all the same, should it turn up again.
 * @throws AppError stale, not-found
 */
export async function createBoxPart(
  tx: Tx,
  { workspaceId }: Workspace,
  { from, ...which }: { box: string; version: number; from: number },
): Promise<{ number: number }> {
  const box = await lockShowBox(tx, workspaceId, which)
  const number = Math.max(...box.parts.map((part) => part.number)) + 1
  if (number > 9) throw new AppError('invalid', 'A box has nine parts at most.')
  await tx.showBoxPart.create({
    data: { workspaceId, boxId: box.id, number, series: seriesOfPart(box.number, number) },
  })
  await tx.showBoxAnimal.updateMany({
    where: { workspaceId, boxId: box.id, partNumber: from, end: null },
    data: { partNumber: number },
  })
  await takeItemsOver(tx, workspaceId, { box: box.id, items: box.items, from, to: number })
  await takeBoxOn(tx, workspaceId, box)
  return { number }
}

/**
 * Settles a box by what came home; again, when a missing cup turns up. The animals stand where they stood before, since
 * nobody moved them on the records; things of the stock are counted. @throws AppError stale, not-found; invalid for what is no label
 */
export async function recordBoxHome(
  tx: Tx,
  { workspaceId, today }: Workspace,
  { labels, counts, ...which }: Settling,
): Promise<BoxSettled> {
  const box = await lockShowBox(tx, workspaceId, which)
  const scanned = readCodes(labels)
  const open = box.animals.filter(({ end }) => end !== 'left_out').map(({ individualId }) => individualId)
  const animals = await lockIndividuals(tx, workspaceId, open)
  const receipts = await loadReceiptNumbers(tx, workspaceId, open)
  const known = animals.map(({ id, label, whereabouts }) => ({
    ...{ id, label, whereabouts, receipt: receipts.get(id) ?? null },
  }))
  const earlier = new Set(
    box.animals.filter(({ end }) => end === 'home').map(({ individualId }) => individualId),
  )
  const before = known.filter(({ id }) => earlier.has(id)).map(({ label }) => label)
  const { ends, puzzles } = settleBox(known, [...new Set([...scanned, ...before])])
  const endOn = fromPlainDate(today)
  for (const end of ['home', 'sold', 'missing', 'left_out'] as const)
    await tx.showBoxAnimal.updateMany({
      where: {
        ...{ workspaceId, boxId: box.id },
        individualId: { in: ends.filter((one) => one.end === end).map(({ id }) => id) },
      },
      data: { end, endOn },
    })
  counts.forEach(({ item }, index) => {
    if (!box.items.some(({ number }) => number === item))
      throw refuseField(`counts.${index}.home`, 'This is not in the box.')
  })
  const things = await takeHomeCounts(tx, workspaceId, { box: box.id, items: box.items, counts })
  await tx.showBox.updateMany({
    where: { workspaceId, id: box.id, settledOn: null },
    data: { settledOn: endOn },
  })
  await takeBoxOn(tx, workspaceId, box)
  const labelOf = new Map(known.map(({ id, label }) => [id, formatCode(label)]))
  return {
    home: ends.filter(({ end }) => end === 'home').length,
    sold: ends.filter(({ end }) => end === 'sold').length,
    missing: ends.filter(({ end }) => end === 'missing').map(({ id }) => labelOf.get(id) ?? ''),
    puzzles: puzzles.map(({ label, why }) => ({ label: formatCode(label), why })),
    things,
  }
}

/** Records that the papers of a box are printed, a sheet for each animal in each language, and opens their pages. */
export async function printBoxPapers(
  tx: Tx,
  actor: Actor,
  { box: id, paper }: BoxPapers,
): Promise<{ sheets: number; paper: string }> {
  const { workspace } = actor
  const { workspaceId } = workspace
  const box = await requireShowBox(tx, workspaceId, id)
  const ids = box.animals.filter(({ end }) => end === null).map(({ individualId }) => individualId)
  const animals = (await lockIndividuals(tx, workspaceId, ids)).filter(
    ({ whereabouts }) => whereabouts === 'single',
  )
  if (animals.length === 0) throw new AppError('invalid', 'There is nobody in this box any more.')
  const links = await openPublicLinks(tx, workspaceId, {
    kind: 'individual',
    ids: animals.map((one) => one.id),
  })
  const languages = box.languages.filter(isLanguage)
  const chosen = languages.map((language) => readSheetChoice({ paper, language }, workspace))
  for (const choice of chosen)
    await openSheetRecords(tx, actor, {
      ...{ animals, printed: { ...choice, note: '' }, linkOf: (each: string) => links.get(each) },
      ...{ lotId: null, batchId: null },
    })
  return { sheets: animals.length * languages.length, paper: chosen[0]?.paper ?? 'a4' }
}
