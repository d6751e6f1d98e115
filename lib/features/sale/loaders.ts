import type { ReceiptPaper, ReceiptPayload } from '@/lib/documents/receipt/render'
import { beginnerKnown } from '@/lib/domain/buyer/experience'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { moultsOf } from '@/lib/domain/individual/record'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode, parseCode } from '@/lib/domain/label/code'
import { priceOfAnimal } from '@/lib/domain/price/price-list'
import {
  type KeptBack,
  mayOverride,
  ONLY_THE_OWNER,
  type OverrideRules,
  sayKeptBack,
} from '@/lib/domain/role/overrides'
import { isAllowed, type Role } from '@/lib/domain/role/permissions'
import { checkForSale } from '@/lib/domain/sale/buyer-should-know'
import { describeForSale } from '@/lib/domain/sale/description'
import { sayHold } from '@/lib/domain/sale/hold'
import type { LeaveToday } from '@/lib/domain/sale/leave-today'
import { writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import { siblingsInBasket } from '@/lib/domain/sale/siblings'
import { sayQuarantine } from '@/lib/domain/zone/quarantine'
import { type BuyerChoice, listBuyerChoices } from '@/lib/features/buyer/data'
import { codesOf, loadClearances } from '@/lib/features/clearance/data'
import { listContainerKinds } from '@/lib/features/container/data'
import { loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { type IndividualRow, loadIndividualsByLabel } from '@/lib/features/individual/data'
import { listReservations } from '@/lib/features/reservation/data'
import { listSales, loadReceiptNumbers, requireSale } from '@/lib/features/sale/data'
import { loadProfiles, type SpeciesWithProfile } from '@/lib/features/species/data'
import { listSellableStock, type StockChoice } from '@/lib/features/stock-line/data'
import {
  loadReceiptFoot,
  loadSellingTerms,
  overrideRulesOf,
  type SellingTerms,
} from '@/lib/features/till/data'
import { listZones, loadZonesById } from '@/lib/features/zone/data'
import { isLanguage, type Language } from '@/lib/messages/language'
import type { Tx } from '@/lib/platform/db'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import type { Actor, Workspace } from '@/lib/platform/workspace'

/** An animal that lies on the counter: what it is, and whether it may go. */
export type CounterItem = {
  id: string
  label: string
  scientificName: string
  description: string
  leave: LeaveToday
  /** by the list the counter proposes from; null where it has none */
  priceMinor: number | null
  /** it cannot be sold at all: it is not here */
  isGone: boolean
  keptBack: KeptBack
  /** who lets it leave today all the same, and why */
  cleared: string[]
}

export type CounterPage = {
  items: CounterItem[]
  /** the codes in the address that lead to an animal, in their stored form */
  codes: string[]
  /** what was typed and leads nowhere, with what to do about it */
  unread: { typed: string; why: string }[]
  /** what lies there besides animals, in the order of the address */
  stock: (StockChoice & { kept: string | null })[]
  /** what of the stock could lie there */
  choices: StockChoice[]
  buyers: BuyerChoice[]
  buyer: string
  terms: SellingTerms
  currency: string
  today: PlainDate
}

/** What the address of the counter says lies on it, and for whom. */
export type OnCounter = { codes: string; also: string; buyer: string }

const MOST_CODES = 50

/** The counter with what the address names. */
export function loadCounterPage(slug: string, asked: OnCounter): Promise<CounterPage> {
  return loadPage({ slug, permission: 'sale:write' }, ({ tx, workspace, scope }) =>
    loadCounter(tx, { workspace, scope }, asked),
  )
}

/** The same in a transaction that is open: at most ten statements, however much lies there. */
export async function loadCounter(
  tx: Tx,
  { workspace, scope }: Actor,
  asked: OnCounter,
): Promise<CounterPage> {
  const { workspaceId, today, currency } = workspace
  const typed = asked.codes.split(',').map((code) => code.trim())
  const read = readCodes(typed.filter(Boolean).slice(0, MOST_CODES))
  const found = await loadIndividualsByLabel(tx, workspaceId, read.codes)
  const animals = read.codes.flatMap((code) => found.get(code) ?? [])
  const buyers = await listBuyerChoices(tx, workspaceId)
  const buyer = buyers.find(({ id }) => id === asked.buyer)
  const terms = await loadSellingTerms(tx, workspaceId)
  const items = await checkItems(tx, workspace, { animals, buyer, terms, role: scope.role })
  const choices = await listSellableStock(tx, workspaceId)
  const missing = read.codes.filter((code) => !found.has(code))
  return {
    items,
    codes: animals.map(({ label }) => label),
    unread: [
      ...read.unread,
      ...missing.map((code) => ({ typed: formatCode(code), why: 'No animal here carries this label.' })),
    ],
    stock: readStock(asked.also, choices).map((choice) => ({
      ...choice,
      kept: sayKeptStock(choice, { role: scope.role, rules: overrideRulesOf(terms), today }),
    })),
    choices: choices.filter(({ kind, left }) => kind === 'pack' || left > 0),
    buyers,
    buyer: buyer?.id ?? '',
    terms,
    currency,
    today,
  }
}

/** Why this role may not sell it; null where it may. */
function sayKeptStock(
  { quarantineUntil }: StockChoice,
  { role, rules, today }: { role: Role; rules: OverrideRules; today: PlainDate },
): string | null {
  const quarantine = sayQuarantine(quarantineUntil, today)
  if (!quarantine || mayOverride(role, 'quarantine', rules)) return null
  return `Its zone is ${quarantine}. ${ONLY_THE_OWNER}`
}

/** `kind~id` for each thing; what is no longer there is left out. Anything else is an entry without a row. */
function readStock(also: string, choices: readonly StockChoice[]): StockChoice[] {
  return also
    .split(',')
    .filter(Boolean)
    .slice(0, MOST_CODES)
    .flatMap((key) => choices.find(({ kind, id }) => `${kind}~${id}` === key) ?? [])
}

type Checking = {
  animals: readonly IndividualRow[]
  buyer: BuyerChoice | undefined
  terms: SellingTerms
  role: Role
}

async function checkItems(
  tx: Tx,
  workspace: Workspace,
  { animals, buyer, terms, role }: Checking,
): Promise<CounterItem[]> {
  const { workspaceId, today, country } = workspace
  if (animals.length === 0) return []
  const listed = [...(await loadProfiles(tx, workspaceId)).values()]
  const zones = await loadZonesById(tx, workspaceId)
  const profiles = await loadGrownSpecies(tx, workspaceId, { species: listed, zones, animals })
  const sold = animals.filter(({ whereabouts }) => whereabouts === 'sold').map(({ id }) => id)
  const receipts = sold.length > 0 ? await loadReceiptNumbers(tx, workspaceId, sold) : new Map()
  const siblings = siblingsInBasket(animals)
  const held = await listReservations(tx, workspaceId, {
    today,
    individualIds: animals.map(({ id }) => id),
  })
  const ids = animals.map(({ id }) => id)
  const clearances = await loadClearances(tx, workspaceId, { ids, on: today })
  const rules = overrideRulesOf(terms)
  return animals.map((animal) => {
    const species = profiles.get(animal.speciesId)
    const naming = instarNamingOf(workspace)
    const { profile = null, learned = null } = species ?? {}
    const known = { profile, zones, naming, today, learned, ...beginnerKnown(buyer?.experience) }
    const { leave } = checkForSale(animal, known, {
      species: { scientificName: animal.scientificName, slug: animal.speciesSlug },
      siblings: siblings.get(animal.id) ?? [],
      country,
      buyerCountry: buyer?.country ?? '',
      heldFor: sayHold(held, { id: animal.id, buyer: buyer?.id ?? null, today }),
    })
    const shown = present(animal, { species, leave, naming, receipt: receipts.get(animal.id) })
    const { speciesId, sex, adultSinceOn } = animal
    const grown = { speciesId, sex, moults: moultsOf(animal), isAdult: adultSinceOn !== null }
    const given = clearances.get(animal.id) ?? []
    return {
      ...shown,
      keptBack: sayKeptBack(leave.blocks, { role, rules, cleared: codesOf(given) }),
      cleared: given.map(({ by, reason }) => (by ? `${by}: ${reason}` : reason)),
      priceMinor: priceOfAnimal(terms.prices, grown),
    }
  })
}

function readCodes(typed: string[]): { codes: string[]; unread: CounterPage['unread'] } {
  const codes = new Set<string>()
  const unread: CounterPage['unread'] = []
  for (const text of typed) {
    const parsed = parseCode(text)
    if (parsed.status === 'ok' && parsed.kind === 'individual') codes.add(parsed.code)
    else unread.push({ typed: text, why: sayUnreadable(parsed) })
  }
  return { codes: [...codes], unread }
}

function sayUnreadable(parsed: ReturnType<typeof parseCode>): string {
  if (parsed.status === 'ok')
    return 'This is the label of a clutch or an egg case: put it on the counter with “Something else”.'
  if (parsed.reason === 'letter-not-used') return 'Labels never have I, O, 0 or 1 in them. Look again.'
  return 'This is not a label. They look like K7Q 97.'
}

type Presenting = {
  species: SpeciesWithProfile | undefined
  leave: LeaveToday
  naming: ReturnType<typeof instarNamingOf>
  receipt: string | undefined
}

function present(
  animal: IndividualRow,
  { species, leave, naming, receipt }: Presenting,
): Omit<CounterItem, 'priceMinor' | 'keptBack' | 'cleared'> {
  const isGone = animal.whereabouts !== 'single'
  const under = receipt === undefined ? '' : ` It is on receipt ${receipt}.`
  const [first, ...others] = leave.blocks
  const blocks =
    first && under ? [{ ...first, message: `${first.message}${under}` }, ...others] : leave.blocks
  return {
    id: animal.id,
    label: animal.label,
    scientificName: species?.scientificName ?? '',
    description: species ? describeForSale(animal, { species, naming }) : '',
    leave: { ...leave, blocks },
    isGone,
  }
}

/** The receipts, newest first. */
export function loadSalesPage(slug: string, cursor: string | undefined) {
  return loadPage({ slug, permission: 'sale:read' }, async ({ tx, workspace, scope }) => {
    const { items, nextCursor } = await listSales(tx, workspace.workspaceId, { limit: 50, cursor })
    return {
      items: items.map(({ createdAt: _, stock: __, ...sale }) => sale),
      nextCursor,
      isFirstPage: cursor === undefined,
      today: workspace.today,
      maySell: isAllowed(scope.role, 'sale:write'),
      maySetTill: isAllowed(scope.role, 'till:write'),
    }
  })
}
export type SalesPage = Awaited<ReturnType<typeof loadSalesPage>>

/** One receipt, as it is handed over. */
export function loadReceiptPage(slug: string, id: string) {
  return loadPage({ slug, permission: 'sale:read' }, ({ tx, workspace, scope }) =>
    loadReceipt(tx, { workspace, scope }, requireIdParam(id)),
  )
}

/** The same in a transaction that is open: at most ten statements, however many lines it has. */
export async function loadReceipt(tx: Tx, { workspace, scope }: Actor, id: string) {
  const { workspaceId, name, contact, today, language } = workspace
  const { createdAt: _, stock: __, ...sale } = await requireSale(tx, workspaceId, id)
  const foot = await loadReceiptFoot(tx, workspaceId, { buyer: sale.buyer, sale: id })
  const zones = await listZones(tx, workspaceId)
  const kinds = await listContainerKinds(tx, workspaceId)
  return {
    sale,
    seller: { name, contact },
    buyerName: foot.buyer?.name ?? '',
    papers: foot.papers,
    words: foot.words,
    today,
    language: languageOf(undefined, foot, language),
    zones: zones.map(({ id: value, name: label }) => ({ value, label })),
    kinds: kinds.map(({ id: value, name: kind, free }) => ({ value, label: `${kind} (${free} free)` })),
    mayReverse: isAllowed(scope.role, 'sale:write'),
    mayPrint: isAllowed(scope.role, 'care-sheet:print'),
  }
}
export type ReceiptPage = Awaited<ReturnType<typeof loadReceiptPage>>

/** What was asked for, else what the buyer reads, else what is written here. */
function languageOf(asked: string | undefined, foot: { language: string }, own: string): Language {
  return [asked, foot.language, own].find(isLanguage) ?? 'en'
}

/** What a printed receipt says. */
export function loadReceiptPayload(
  slug: string,
  { id, paper, language: asked }: { id: string; paper: ReceiptPaper; language?: string },
): Promise<ReceiptPayload> {
  return loadPage({ slug, permission: 'sale:read' }, async ({ tx, workspace }) => {
    const { workspaceId, name, contact } = workspace
    const sale = await requireSale(tx, workspaceId, requireIdParam(id))
    const foot = await loadReceiptFoot(tx, workspaceId, { buyer: sale.buyer, sale: sale.id })
    return {
      ...{
        paper,
        currency: sale.total.currency,
        on: sale.on,
        note: sale.note,
        taxIncluded: sale.taxIncluded,
      },
      language: languageOf(asked, foot, workspace.language),
      seller: { name, contact, words: foot.words },
      receipt: writeReceiptNumber(sale),
      soldBy: sale.seller,
      buyer: foot.buyer,
      certifiedNumber: sale.certifiedNumber,
      lines: sale.lines.map((line, index) => ({
        facts: sale.stock[index]?.facts ?? null,
        ...{ label: line.label, description: line.description, quantity: line.quantity },
        ...{ returned: line.returned, isCounted: line.kind !== 'animal' },
        unitPriceMinor: line.unitPrice.amount,
        discountMinor: line.discount.amount,
        priceMinor: line.price.amount,
      })),
      totalMinor: sale.total.amount,
      taxes: sale.taxes.map(({ percent, net, tax }) => ({
        ...{ percent, netMinor: net.amount, taxMinor: tax.amount },
      })),
      payments: sale.payments.map(({ kind, on, amount, given }) => ({
        ...{ kind, on, amountMinor: amount.amount, givenMinor: given === null ? null : given.amount },
      })),
      refunds: sale.refunds.map(({ kind, on, amount }) => ({ kind, on, amountMinor: amount.amount })),
      owedMinor: sale.owed === null ? null : sale.owed.amount,
      returns: sale.returns.map(({ returnNumber, on, refund }) => ({
        ...{ returnNumber, on, refundMinor: refund.amount },
      })),
    }
  })
}
