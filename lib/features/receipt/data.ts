import { beginnerKnown } from '@/lib/domain/buyer/experience'
import { inLedgerOrder, whereaboutsSentence } from '@/lib/domain/individual/whereabouts'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode } from '@/lib/domain/label/code'
import { writeMoney } from '@/lib/domain/money/money'
import { listKeptBack, ONLY_THE_OWNER, sayWhomToAsk } from '@/lib/domain/role/overrides'
import type { Role } from '@/lib/domain/role/permissions'
import { type PricedBasket, type PricedLine, priceBasket } from '@/lib/domain/sale/basket'
import { checkForSale } from '@/lib/domain/sale/buyer-should-know'
import { describeForSale } from '@/lib/domain/sale/description'
import { sayHold } from '@/lib/domain/sale/hold'
import type { LeaveAdvice } from '@/lib/domain/sale/leave-today'
import { type SettledPart, sayUnsettled, settle } from '@/lib/domain/sale/payment'
import { siblingsInBasket } from '@/lib/domain/sale/siblings'
import { factsOfAnimal } from '@/lib/domain/sale/sold-facts'
import { proposedRate } from '@/lib/domain/sale/tax-rate'
import { type BuyerRow, requireOpenBuyer } from '@/lib/features/buyer/data'
import { codesOf, loadClearances } from '@/lib/features/clearance/data'
import type { ClearanceRow } from '@/lib/features/clearance/schema'
import { loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { endStays } from '@/lib/features/housing/data'
import { type IndividualRow, lockIndividuals, refuseLeavingOn } from '@/lib/features/individual/data'
import { loadOrdersOfAnimals } from '@/lib/features/order/data'
import { loadOrdersOfStock } from '@/lib/features/order-stock/data'
import { takePapers } from '@/lib/features/paper/data'
import { endHoldsOfSold, listReservations } from '@/lib/features/reservation/data'
import { loadReceiptNumbers } from '@/lib/features/sale/data'
import {
  type AnimalLine,
  isAnimalLine,
  isStockSaleLine,
  type NewSale,
  type NewSaleLine,
  type StockSaleLine,
} from '@/lib/features/sale/schema'
import { loadProfiles } from '@/lib/features/species/data'
import { type TakenStock, takeStock } from '@/lib/features/stock-line/data'
import { listTaxRates } from '@/lib/features/tax-rate/data'
import { loadTill, overrideRulesOf, type TillRow } from '@/lib/features/till/data'
import { loadZonesById } from '@/lib/features/zone/data'
import { takeNumbers } from '@/lib/platform/counter'
import type { Tx } from '@/lib/platform/db'
import { AppError, refuseField, refuseUnknown } from '@/lib/platform/errors'
import { fromPlainDate } from '@/lib/platform/plain-date'
import { refuseFuture } from '@/lib/platform/plain-date-schema'
import type { Warned, Warning } from '@/lib/platform/warned'
import type { Actor, Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** A line as it is written onto the receipt. */
type Checked = {
  line: NewSaleLine
  name: string
  stock: TakenStock
  individualId: string | null
  overrideReason: string
}

/**
 * The one way in which anything is sold: one receipt, one entry in the ledger for each animal or lot, containers free again. What
 * speaks against it is recorded beside the line and answered as warnings.
 * @throws AppError already-gone or more-than-left when something is not here any more; invalid at the field for what
 * cannot be true
 */
export async function takeSale(tx: Tx, actor: Actor, sale: NewSale): Promise<Warned<{ id: string }>> {
  const { workspaceId, today } = actor.workspace
  refuseFuture('on', sale.on, today)
  refuseTwice(sale.lines)
  const buyer = sale.buyer === null ? null : await requireOpenBuyer(tx, workspaceId, sale.buyer)
  const animals = await sellAnimals(tx, actor, { sale, buyer })
  const stock = await sellStock(tx, actor, sale)
  const ofLine = new Map([...animals, ...stock].map((checked) => [checked.line, checked]))
  const checked = sale.lines.flatMap((line) => ofLine.get(line) ?? [])
  const id = await writeReceipt(tx, actor, { sale, checked })
  await takePapers(tx, actor, { of: [{ saleId: id }], papers: sale.papers ?? [] })
  return { value: { id }, warnings: checked.flatMap((each) => namedWarnings(each, checked.length)) }
}

function refuseTwice(lines: readonly NewSaleLine[]): void {
  const seen = new Set<string>()
  for (const line of lines.filter(isAnimalLine)) {
    if (seen.has(line.individual)) throw refuseField(line.at, 'This animal is named twice.')
    seen.add(line.individual)
  }
}

type Selling = { sale: NewSale; buyer: BuyerRow | null }

async function sellAnimals(tx: Tx, actor: Actor, { sale, buyer }: Selling): Promise<Checked[]> {
  const { workspaceId, today } = actor.workspace
  const { on } = sale
  const lines = sale.lines.filter(isAnimalLine)
  if (lines.length === 0) return []
  const animals = await lockIndividuals(
    tx,
    workspaceId,
    lines.map(({ individual }) => individual),
  )
  await refuseGone(tx, actor.workspace, animals)
  for (const animal of animals) refuseLeavingOn(animal, { on, today })
  const checked = await checkAnimals(tx, actor, { sale, buyer, lines, animals })
  await endStays(tx, workspaceId, { animals, on, today })
  const entryOf = await writeEntries(tx, actor, { animals, on })
  const individualIds = animals.map(({ id }) => id)
  await endHoldsOfSold(tx, workspaceId, { individualIds, buyerId: sale.buyer, on })
  return checked.map(({ stock, ...each }) => ({
    ...each,
    stock: { ...stock, columns: { entryId: entryOf.get(each.individualId ?? '') ?? '' } },
  }))
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

type Checking = Selling & { lines: readonly AnimalLine[]; animals: readonly IndividualRow[] }

async function checkAnimals(
  tx: Tx,
  { scope, workspace }: Actor,
  { sale, buyer, lines, animals }: Checking,
): Promise<Checked[]> {
  const { workspaceId, country } = workspace
  const till = await loadTill(tx, workspaceId)
  const listed = [...(await loadProfiles(tx, workspaceId)).values()]
  const zones = await loadZonesById(tx, workspaceId)
  const profiles = await loadGrownSpecies(tx, workspaceId, { species: listed, zones, animals })
  const naming = instarNamingOf(workspace)
  const byId = new Map(animals.map((animal) => [animal.id, animal]))
  const siblings = siblingsInBasket(animals)
  const ids = animals.map(({ id }) => id)
  const ordered = await loadOrdersOfAnimals(tx, workspaceId, ids)
  const held = await listReservations(tx, workspaceId, {
    today: sale.on,
    individualIds: ids,
  })
  const clearances = await loadClearances(tx, workspaceId, { ids, on: sale.on })
  return lines.map((line) => {
    const animal = byId.get(line.individual)
    const species = animal && profiles.get(animal.speciesId)
    if (!animal || !species) throw refuseUnknown('animal')
    const known = { ...species, zones, naming, today: sale.on, ...beginnerKnown(buyer?.experience) }
    const { leave } = checkForSale(animal, known, {
      species,
      siblings: siblings.get(animal.id) ?? [],
      country,
      buyerCountry: buyer?.country ?? '',
      heldFor: sayHold(held, { id: animal.id, buyer: sale.buyer, today: sale.on }),
    })
    const cleared = clearances.get(animal.id) ?? []
    refuseKeptBack(
      { line, blocks: blocksKnown(leave.blocks, { line, sale }) },
      { role: scope.role, till, cleared },
    )
    const advice = [...leave.blocks, ...leave.warnings].map(({ code, message }) => ({ code, message }))
    const warnings = [...advice, ...warnOfOrder(ordered.get(animal.id), sale.order)]
    const description = describeForSale(animal, { species, naming })
    return {
      line,
      overrideReason: reasonOf(line, leave.may ? [] : cleared),
      name: formatCode(animal.label),
      individualId: animal.id,
      stock: {
        description,
        quantity: 1,
        warnings,
        facts: factsOfAnimal(animal, { species, naming }),
        columns: {},
      },
    }
  })
}

/**
 * A box that is on its way is not called back. Of a receipt that stands on paper only what the device was told counts,
 * and what cannot have come up since: a moult that was found due meanwhile takes nothing back.
 */
function blocksKnown(
  blocks: readonly LeaveAdvice[],
  { line, sale }: { line: AnimalLine; sale: NewSale },
): LeaveAdvice[] {
  if (sale.hasLeft) return []
  if (!sale.written) return [...blocks]
  const told = [...(line.against ?? []), 'too-young', 'too-young-for-beginner']
  return blocks.filter(({ code }) => told.includes(code))
}

type Allowed = { role: Role; till: TillRow; cleared: readonly ClearanceRow[] }

/** @throws AppError not-cleared for what this role may not override and nobody has cleared for the day */
function refuseKeptBack(
  { line, blocks }: { line: AnimalLine; blocks: readonly LeaveAdvice[] },
  { role, till, cleared }: Allowed,
): void {
  const rules = overrideRulesOf(till)
  const kept = listKeptBack(blocks, { role, rules, cleared: codesOf(cleared) })
  if (kept.length === 0) return
  const codes = kept.map(({ code }) => code)
  const message = `${kept.map((each) => each.message).join(' ')} ${sayWhomToAsk(codes, rules)}.`
  const path = line.at.replace(/price$/, 'overrideReason')
  const present = { individual: line.individual, codes }
  throw new AppError('not-cleared', message, { fields: [{ path, message }], present })
}

/** A lot or an egg case is let go by nobody beforehand: whoever may override it sells it. */
function refuseKeptStock(
  { line, warnings }: { line: StockSaleLine; warnings: readonly Warning[] },
  { role, till }: Allowed,
): void {
  const [kept] = listKeptBack(warnings, { role, rules: overrideRulesOf(till), cleared: [] })
  if (!kept) return
  const message = `${kept.message} ${ONLY_THE_OWNER}`
  throw new AppError('not-cleared', message, {
    fields: [{ path: line.at, message }],
    present: { codes: [kept.code] },
  })
}

/** Why it left all the same: what was typed, or what whoever cleared it said. */
function reasonOf(line: AnimalLine, cleared: readonly ClearanceRow[]): string {
  if (line.overrideReason !== '') return line.overrideReason
  return cleared.map(({ by, reason }) => (by ? `${by}: ${reason}` : reason)).join(' ')
}

/** Somebody else waits for it. */
function warnOfOrder(ordered: number | undefined, own: number | undefined): Warning[] {
  if (ordered === undefined || ordered === own) return []
  return [{ code: 'ordered', message: `It is chosen for order ${ordered}.` }]
}

/** In one order for everybody, so that two baskets with the same things wait for each other. */
async function sellStock(tx: Tx, actor: Actor, sale: NewSale): Promise<Checked[]> {
  const lines = sale.lines.filter(isStockSaleLine)
  if (lines.length === 0) return []
  const till = await loadTill(tx, actor.workspace.workspaceId)
  const singles = lines.flatMap((line) => singleIdOf(line) ?? [])
  const ordered = await loadOrdersOfStock(tx, actor.workspace.workspaceId, singles)
  const checked: Checked[] = []
  for (const line of lines.toSorted((a, b) => keyOf(a).localeCompare(keyOf(b)))) {
    const stock = await takeStock(tx, actor, { subject: line, on: sale.on, at: line.at })
    // What is on its way, or on a paper that a device has written, is not called back.
    if (!sale.hasLeft && !sale.written)
      refuseKeptStock({ line, warnings: stock.warnings }, { role: actor.scope.role, till, cleared: [] })
    const promised = warnOfOrder(ordered.get(singleIdOf(line) ?? ''), sale.order)
    const warnings = [...stock.warnings, ...promised, ...(line.told ?? [])]
    const { overrideReason } = line
    const name = stock.description
    checked.push({ line, name, stock: { ...stock, warnings }, individualId: null, overrideReason })
  }
  return checked
}

/** Of what there is once. */
function singleIdOf(line: StockSaleLine): string | undefined {
  return line.kind === 'egg_case' ? line.eggCase : line.kind === 'culture' ? line.culture : undefined
}

function keyOf(line: StockSaleLine): string {
  const { kind } = line
  const id = kind === 'lot' ? line.clutch : kind === 'egg_case' ? line.eggCase : ''
  const other = kind === 'culture' ? line.culture : kind === 'container' ? line.containerKind : ''
  return `${kind} ${id}${other}`
}

function namedWarnings({ name, stock }: Checked, lines: number): Warning[] {
  if (lines === 1) return stock.warnings
  return stock.warnings.map(({ code, message }) => ({ code, message: `${name}: ${message}` }))
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
  { sale, checked }: { sale: NewSale; checked: Checked[] },
): Promise<string> {
  const { workspaceId } = workspace
  const { currency, pricesIncludeTax, series } = sale.written ?? (await loadOwnTerms(tx, workspace))
  const rates = await listTaxRates(tx, workspaceId)
  const rateOf = ({ kind, taxBasisPoints }: NewSaleLine) => taxBasisPoints ?? proposedRate(rates, kind)
  refuseDiscounts(checked)
  const basket = priceBasket(
    checked.map(({ line, stock }) => ({ ...line, ...stock, taxBasisPoints: rateOf(line) })),
    { pricesIncludeTax, discountMinor: sale.discountMinor },
  )
  const parts = settleOrRefuse(basket, sale, currency)
  const made = await tx.sale.create({
    data: {
      workspaceId,
      series,
      receiptNumber: await takeReceiptNumber(tx, workspaceId, { series, written: sale.written?.number }),
      on: fromPlainDate(sale.on),
      currency,
      totalMinor: basket.totalMinor,
      taxIncluded: pricesIncludeTax,
      certifiedNumber: sale.certifiedNumber,
      note: sale.note,
      buyerId: sale.buyer,
      soldBy: scope.personId,
    },
    select: { id: true },
  })
  const key = { workspaceId, saleId: made.id }
  await tx.saleLine.createMany({
    data: checked.map((each, index) => ({
      ...key,
      number: index + 1,
      ...columnsOf(each, { priced: basket.lines[index], rate: rateOf(each.line) }),
    })),
  })
  await tx.salePayment.createMany({
    data: parts.map((part, index) => ({ ...key, number: index + 1, ...part })),
  })
  return made.id
}

async function loadOwnTerms(tx: Tx, { workspaceId, currency }: Workspace) {
  const { pricesIncludeTax } = await loadTill(tx, workspaceId)
  return { currency, pricesIncludeTax, series: '' }
}

/**
 * The next number of a series. What a device has written on paper has to be just that one, or an earlier receipt of it
 * has not arrived yet.
 */
async function takeReceiptNumber(
  tx: Tx,
  workspaceId: WorkspaceId,
  { series, written }: { series: string; written: number | undefined },
): Promise<number> {
  const name = series === '' ? ('receipt' as const) : (`receipt-${series}` as const)
  const next = await takeNumbers(tx, workspaceId, { name, count: 1 })
  if (written !== undefined && written !== next)
    throw new AppError('stale', `Receipt ${series}-${next} comes before this one.`, { present: { next } })
  return next
}

function refuseDiscounts(checked: readonly Checked[]): void {
  for (const { line, stock } of checked)
    if (line.discountMinor > line.unitPriceMinor * stock.quantity)
      throw refuseField(line.at.replace(/price$/, 'discount'), 'More off than it costs.')
}

function columnsOf(
  { line, stock, individualId, overrideReason }: Checked,
  { priced, rate }: { priced: PricedLine | undefined; rate: number },
) {
  const { description, quantity, warnings, facts, columns } = stock
  return {
    ...{ kind: line.kind, individualId, description, quantity, warnings },
    ...columns,
    ...(facts ? { facts } : {}),
    unitPriceMinor: line.unitPriceMinor,
    discountMinor: priced?.discountMinor ?? 0,
    priceMinor: priced?.priceMinor ?? 0,
    taxBasisPoints: rate,
    taxMinor: priced?.taxMinor ?? 0,
    overrideReason,
  }
}

/** What was put down has to come to what is due; only cash may be more. */
function settleOrRefuse({ totalMinor }: PricedBasket, sale: NewSale, currency: string): SettledPart[] {
  const settled = settle(totalMinor, sale.payments)
  if (settled.status === 'settled') return settled.parts
  const say = (minor: number) => writeMoney(minor, currency, 'en')
  throw refuseField('payments.0.amount', sayUnsettled(settled, { totalMinor, say }) ?? '')
}
