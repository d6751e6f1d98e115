import type { PlainDate } from '@/lib/domain/calendar/date'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode, parseCode } from '@/lib/domain/label/code'
import { isAllowed } from '@/lib/domain/role/permissions'
import { describeForSale } from '@/lib/domain/sale/description'
import { leaveOfAnimal } from '@/lib/domain/sale/leave-of-animal'
import type { LeaveToday } from '@/lib/domain/sale/leave-today'
import { listContainerKinds } from '@/lib/features/container/data'
import { loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { type IndividualRow, loadIndividualsByLabel } from '@/lib/features/individual/data'
import { listSales, loadReceiptNumbers, requireSale } from '@/lib/features/sale/data'
import { loadProfiles, type SpeciesWithProfile } from '@/lib/features/species/data'
import { listZones, loadZonesById } from '@/lib/features/zone/data'
import { isLanguage, type Language } from '@/lib/messages/language'
import { loadPage, requireIdParam } from '@/lib/platform/page'

/** An animal that lies on the counter: what it is, and whether it may go. */
export type CounterItem = {
  id: string
  label: string
  scientificName: string
  description: string
  leave: LeaveToday
  /** it cannot be sold at all: it is not here */
  isGone: boolean
}

export type CounterPage = {
  items: CounterItem[]
  /** the codes in the address that lead to an animal, in their stored form */
  codes: string[]
  /** what was typed and leads nowhere, with what to do about it */
  unread: { typed: string; why: string }[]
  currency: string
  today: PlainDate
}

const MOST_CODES = 50

/** The counter with the animals whose codes stand in the address. */
export function loadCounterPage(slug: string, asked: string): Promise<CounterPage> {
  return loadPage({ slug, permission: 'sale:write' }, async ({ tx, workspace }) => {
    const { workspaceId, today, currency } = workspace
    const typed = asked.split(',').map((code) => code.trim())
    const read = readCodes(typed.filter(Boolean).slice(0, MOST_CODES))
    const found = await loadIndividualsByLabel(tx, workspaceId, read.codes)
    const animals = read.codes.flatMap((code) => found.get(code) ?? [])
    const listed = [...(await loadProfiles(tx, workspaceId)).values()]
    const zones = await loadZonesById(tx, workspaceId)
    const profiles = await loadGrownSpecies(tx, workspaceId, { species: listed, zones, animals })
    const sold = animals.filter(({ whereabouts }) => whereabouts === 'sold').map(({ id }) => id)
    const receipts = await loadReceiptNumbers(tx, workspaceId, sold)
    const missing = read.codes.filter((code) => !found.has(code))
    return {
      items: animals.map((animal) => {
        const species = profiles.get(animal.speciesId)
        const naming = instarNamingOf(workspace)
        const { profile = null, learned = null } = species ?? {}
        const { leave } = leaveOfAnimal(animal, { profile, zones, naming, today, learned })
        return present(animal, { species, leave, naming, receipt: receipts.get(animal.id) })
      }),
      codes: animals.map(({ label }) => label),
      unread: [
        ...read.unread,
        ...missing.map((code) => ({ typed: formatCode(code), why: 'No animal here carries this label.' })),
      ],
      currency,
      today,
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
    return 'This is the label of a clutch or an egg case. Only animals in a container of their own are sold here.'
  if (parsed.reason === 'letter-not-used') return 'Labels never have I, O, 0 or 1 in them. Look again.'
  return 'This is not a label. They look like K7Q 97.'
}

type Presenting = {
  species: SpeciesWithProfile | undefined
  leave: LeaveToday
  naming: ReturnType<typeof instarNamingOf>
  receipt: number | undefined
}

function present(animal: IndividualRow, { species, leave, naming, receipt }: Presenting): CounterItem {
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
      items: items.map(({ createdAt: _, ...sale }) => sale),
      nextCursor,
      isFirstPage: cursor === undefined,
      today: workspace.today,
      maySell: isAllowed(scope.role, 'sale:write'),
    }
  })
}
export type SalesPage = Awaited<ReturnType<typeof loadSalesPage>>

/** One receipt, as it is handed over. */
export function loadReceiptPage(slug: string, id: string) {
  return loadPage({ slug, permission: 'sale:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, name, contact, today, language } = workspace
    const { createdAt: _, ...sale } = await requireSale(tx, workspaceId, requireIdParam(id))
    const zones = await listZones(tx, workspaceId)
    const kinds = await listContainerKinds(tx, workspaceId)
    const own: Language = isLanguage(language) ? language : 'en'
    return {
      sale,
      seller: { name, contact },
      today,
      language: own,
      zones: zones.map(({ id: value, name: label }) => ({ value, label })),
      kinds: kinds.map(({ id: value, name: kind, free }) => ({ value, label: `${kind} (${free} free)` })),
      mayReverse: isAllowed(scope.role, 'sale:write'),
      mayPrint: isAllowed(scope.role, 'care-sheet:print'),
    }
  })
}
export type ReceiptPage = Awaited<ReturnType<typeof loadReceiptPage>>
