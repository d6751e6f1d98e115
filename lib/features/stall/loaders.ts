import { addDays, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode } from '@/lib/domain/label/code'
import { sayKeptBack } from '@/lib/domain/role/overrides'
import { isAllowed } from '@/lib/domain/role/permissions'
import { leaveOfAnimal } from '@/lib/domain/sale/leave-of-animal'
import { codesOf, loadClearances } from '@/lib/features/clearance/data'
import { type BoxedRow, loadBoxedAnimals, loadSeriesEnd, requireShowBox } from '@/lib/features/show-box/data'
import type { StallAnimal, StallPart, StallWho } from '@/lib/features/stall/schema'
import { loadSellingTerms, overrideRulesOf, type TillRow } from '@/lib/features/till/data'
import { loadZonesById } from '@/lib/features/zone/data'
import { readSignedIn } from '@/lib/platform/current-session'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant, refuseUnknown } from '@/lib/platform/errors'
import { listOwnScopes } from '@/lib/platform/own-scopes'
import { listOwnWorkspaces } from '@/lib/platform/session'
import type { Actor, Scope } from '@/lib/platform/workspace'

async function requirePerson() {
  const person = await readSignedIn()
  if (!person) throw new AppError('unauthorised', 'Sign in to sell from a show box.')
  return person
}

/** Who is signed in on this device, for the page that is the same for everybody. */
export async function loadStallWho(): Promise<StallWho> {
  const { personId, name, email } = await requirePerson()
  const own = await listOwnWorkspaces(personId)
  return {
    person: { id: personId, name, email },
    workspaces: own.map(({ workspaceId, role, ...rest }) => ({
      ...{ id: workspaceId, ...rest, maySell: isAllowed(role, 'sale:write') },
    })),
  }
}

/** The gate of the device's own questions: whoever does not belong to a workspace learns nothing of it. */
export async function requireStallScope(workspaceId: string): Promise<{ scope: Scope; name: string }> {
  const person = await requirePerson()
  const scopes = await listOwnScopes(person.personId)
  const scope = scopes.find((each) => each.workspaceId === workspaceId)
  if (!scope) throw new AppError('not-found', 'You do not belong to that workspace now.')
  if (!isAllowed(scope.role, 'sale:write'))
    throw new AppError('forbidden', 'Your role there does not include this now.')
  return { scope, name: person.name }
}

/** Days of a show for which advice is worked out beforehand. */
const ADVISED_DAYS = 8

/** A part that this device has taken, with everything it needs to go on alone. @throws AppError not-found */
export async function loadStallPart(
  tx: Tx,
  { scope, workspace }: Actor,
  asked: { box: string; part: number; person: string },
): Promise<StallPart> {
  const { workspaceId, slug, name, contact, currency, timeZone } = workspace
  const box = await requireShowBox(tx, workspaceId, asked.box)
  const part = box.parts.find(({ number }) => number === asked.part)
  if (!part?.device) throw refuseUnknown('part of a show box')
  invariant(scope.personId, 'a device is used by a person')
  const terms = await loadSellingTerms(tx, workspaceId)
  return {
    workspace: { id: workspaceId, slug, name, contact, currency, timeZone },
    person: { id: scope.personId, name: asked.person },
    box: { id: box.id, number: box.number, name: box.name, packOn: box.packOn, returnOn: box.returnOn },
    part: {
      ...{ number: part.number, series: part.series, device: part.device },
      lastNumber: await loadSeriesEnd(tx, workspaceId, part.series),
    },
    terms: {
      pricesIncludeTax: terms.pricesIncludeTax,
      receiptWords: terms.receiptWords,
      certifiedTill: terms.certifiedTill,
      rates: terms.rates.map(({ name: rate, basisPoints, appliesTo }) => ({
        ...{ name: rate, basisPoints, appliesTo },
      })),
    },
    animals: await loadStallAnimals(tx, { scope, workspace }, { box, part: part.number, terms }),
    items: box.items
      .filter((item) => item.part === part.number && !item.isOut)
      .map(({ number, kind, description, priceMinor, packed, sold }) => ({
        ...{ number, kind, description, priceMinor, packed, sold },
      })),
  }
}

type Boxed = { box: Awaited<ReturnType<typeof requireShowBox>>; part: number; terms: TillRow }

async function loadStallAnimals(
  tx: Tx,
  { scope, workspace }: Actor,
  { box, part, terms }: Boxed,
): Promise<StallAnimal[]> {
  const { workspaceId, today } = workspace
  const own = box.animals.filter((animal) => animal.part === part && animal.end !== 'left_out')
  const ids = own.map(({ individualId }) => individualId)
  const rows = await loadBoxedAnimals(tx, workspace, { ids, ...box })
  const zones = await loadZonesById(tx, workspaceId)
  const naming = instarNamingOf(workspace)
  const clearances = await loadClearances(tx, workspaceId, { ids, on: today })
  const known = { role: scope.role, rules: overrideRulesOf(terms) }
  const from = maxDate(today, box.packOn)
  const days = Array.from({ length: ADVISED_DAYS }, (_, index) => addDays(from, index))
  return rows
    .map((row): StallAnimal => {
      const { animal, description, priceMinor } = row
      const advise = (on: PlainDate) => {
        const { profile = null, learned = null } = row.species ?? {}
        const { leave } = leaveOfAnimal(animal, { profile, learned, zones, naming, today: on })
        const messages = [...leave.blocks, ...leave.warnings].map(({ message }) => message)
        const cleared = on === today ? codesOf(clearances.get(animal.id)) : []
        const { whom, open } = sayKeptBack(leave.blocks, { ...known, cleared })
        const codes = leave.blocks.map(({ code }) => code)
        return { on, may: leave.may, messages: [...new Set(messages)], codes, whom, open }
      }
      return {
        ...{ id: animal.id, label: formatCode(animal.label), description, priceMinor },
        gone: sayGone(row),
        advice: days.filter((on) => on <= box.returnOn || on === from).map(advise),
      }
    })
    .toSorted((a, b) => a.label.localeCompare(b.label))
}

function sayGone({ animal }: BoxedRow): string | null {
  if (animal.whereabouts === 'single') return null
  return animal.whereabouts === 'sold' ? 'sold' : 'not here any more'
}
