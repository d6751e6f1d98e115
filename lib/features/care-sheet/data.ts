import {
  sheetClimate,
  sheetFood,
  sheetHome,
  sheetMoult,
  sheetTimeline,
  sheetWindows,
} from '@/lib/documents/care-sheet/from-forecasts'
import { lotPayload } from '@/lib/documents/care-sheet/lot'
import type { CareSheetPayload, SheetFood } from '@/lib/documents/care-sheet/payload'
import { unprintableSigns } from '@/lib/documents/displayable'
import type { LabelRunPayload } from '@/lib/documents/label/render'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile, PreyItem } from '@/lib/domain/care-profile/profile'
import { sheetCalendar } from '@/lib/domain/care-sheet/calendar'
import { feedingNowAndNext } from '@/lib/domain/care-sheet/feeding'
import { housingNowAndNext } from '@/lib/domain/care-sheet/housing'
import type { Paper } from '@/lib/domain/care-sheet/paper'
import type { ComingMoult } from '@/lib/domain/development/forecast'
import { injuriesOf } from '@/lib/domain/individual/injury'
import { comingMoultsOf, type Outlook, outlookOf } from '@/lib/domain/individual/outlook'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode } from '@/lib/domain/label/code'
import { DEFAULT_PREY_LINES } from '@/lib/domain/prey/default-lines'
import type { PreyLine } from '@/lib/domain/prey/line'
import type { ZonesById } from '@/lib/domain/zone/history'
import type { SheetChoice } from '@/lib/features/care-sheet/schema'
import { type GrownSpecies, loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { type IndividualRow, requireIndividuals } from '@/lib/features/individual/data'
import { loadSheetPhotos, type SheetPhoto } from '@/lib/features/photo/data'
import { loadPublicLinks } from '@/lib/features/public-link/data'
import { loadPrintedBefore, type PrintedBefore, reprintOf } from '@/lib/features/sheet-record/data'
import { loadProfiles } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import { isLanguage, type Language } from '@/lib/messages/language'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant, refuseUnknown } from '@/lib/platform/errors'
import type { Warning } from '@/lib/platform/warned'
import type { Workspace } from '@/lib/platform/workspace'

// Where paper is Letter; everywhere else it is A4.
const LETTER_COUNTRIES = new Set(['US', 'CA', 'MX', 'PH', 'CL', 'CO', 'VE'])

/** What was chosen, and what the workspace uses where nothing was. */
export function readSheetChoice(
  { paper, language }: SheetChoice,
  workspace: Pick<Workspace, 'country' | 'language'>,
): { paper: Paper; language: Language } {
  const own = isLanguage(workspace.language) ? workspace.language : 'en'
  return {
    paper: paper ?? (LETTER_COUNTRIES.has(workspace.country) ? 'letter' : 'a4'),
    language: language ?? own,
  }
}

export type AskedSheets = { ids: readonly string[]; choice: SheetChoice }

/** The day before which a food that was sold no longer counts as sold here. */
const SOLD_WITHIN_DAYS = 120

/** What of the foods of care profiles this shop has sold lately, by its own books. */
export async function loadSoldFoods(
  tx: Tx,
  { workspaceId, today }: Pick<Workspace, 'workspaceId' | 'today'>,
): Promise<ReadonlySet<PreyItem>> {
  const since = addDays(today, -SOLD_WITHIN_DAYS)
  const rows = await tx.$queryRaw<{ slug: string; content: PreyLine | null }[]>`
    select d.slug, (select v.content from prey_line_version v where v.workspace_id = d.workspace_id
        and v.slug = d.slug order by v.number desc limit 1) as content
    from prey_departure d
    where d.workspace_id = ${workspaceId}::uuid and d.how = 'sold' and d."on" >= ${since}::date
    group by d.workspace_id, d.slug`
  const lines = rows.flatMap(
    ({ slug, content }) => content ?? DEFAULT_PREY_LINES.find(({ id }) => id === slug) ?? [],
  )
  return new Set(lines.flatMap(({ standsFor }) => standsFor.value[0]?.item ?? []))
}

/** Those of the foods on a sheet that are sold here. */
export function soldAmong(food: SheetFood, sold: ReadonlySet<PreyItem>): SheetFood {
  const named = [...(food.now ?? []), ...(food.next ?? [])].map(({ item }) => item)
  return { ...food, soldHere: [...new Set(named)].filter((item) => sold.has(item)) }
}

/** What the sheets of animals say. Reads only: a page that was never opened is not opened by looking at a sheet. */
export async function loadCareSheets(
  tx: Tx,
  workspace: Workspace,
  { ids, choice }: AskedSheets,
): Promise<CareSheetPayload[]> {
  const { workspaceId } = workspace
  const animals = await requireIndividuals(tx, workspaceId, ids)
  const listed = [...(await loadProfiles(tx, workspaceId)).values()]
  const zones = await loadZonesById(tx, workspaceId)
  const profiles = await loadGrownSpecies(tx, workspaceId, { species: listed, zones, animals })
  const links = await loadPublicLinks(tx, workspaceId, { kind: 'individual', ids })
  const printed = await loadPrintedBefore(tx, workspaceId, { kind: 'individual', ids })
  const sold = await loadSoldFoods(tx, workspace)
  const photos = await loadSheetPhotos(tx, workspaceId, ids)
  return animals.map((animal) => {
    const species = profiles.get(animal.speciesId)
    invariant(species, 'an animal is of a species that is listed')
    const publicPageUrl = links.get(animal.id)?.address ?? null
    const before = printed.get(animal.id)
    const photo = photos.get(animal.id)
    return careSheetPayload({ animal, species, workspace, zones, choice, publicPageUrl, before, sold, photo })
  })
}

/**
 * The one sheet of animals that go home together.
 * @throws AppError not-found where there is no such lot
 */
export async function loadLotSheet(
  tx: Tx,
  workspace: Workspace,
  { lotId, choice }: { lotId: string; choice: SheetChoice },
): Promise<CareSheetPayload> {
  const { workspaceId } = workspace
  const members = await tx.careSheet.findMany({
    where: { workspaceId, lotId },
    select: { individualId: true },
    orderBy: { id: 'asc' },
  })
  const ids = [...new Set(members.flatMap(({ individualId }) => individualId ?? []))]
  if (ids.length === 0) throw refuseUnknown('lot')
  const sheets = await loadCareSheets(tx, workspace, { ids, choice })
  const links = await loadPublicLinks(tx, workspaceId, { kind: 'lot', ids: [lotId] })
  const before = (await loadPrintedBefore(tx, workspaceId, { kind: 'lot', ids: [lotId] })).get(lotId)
  const lot = lotPayload(sheets)
  return {
    ...lot,
    animal: { ...lot.animal, note: before?.note || null },
    publicPageUrl: links.get(lotId)?.address ?? null,
    reprint: reprintOf(before),
  }
}

/** The labels of animals; a scan leads to the workspace's own page of the code. */
export async function loadLabels(
  tx: Tx,
  workspace: Workspace,
  { ids, choice, address }: AskedSheets & { address: string },
): Promise<LabelRunPayload> {
  const animals = await requireIndividuals(tx, workspace.workspaceId, ids)
  const profiles = await loadProfiles(tx, workspace.workspaceId)
  const naming = instarNamingOf(workspace)
  return {
    language: readSheetChoice(choice, workspace).language,
    labels: animals.map((animal) => {
      const species = profiles.get(animal.speciesId)
      const moults = animal.moults.at(-1)?.number ?? animal.baselineMoults
      return {
        code: formatCode(animal.label),
        scientificName: species?.scientificName ?? '',
        stage: species?.profile ? { moults, isAdult: animal.adultSinceOn !== null, naming } : null,
        hatchedOn: animal.hatchedOn,
        lastMoultOn: animal.moults.at(-1)?.on ?? animal.baselineLastMoultOn,
        url: `${address}/w/${workspace.slug}/c/${formatCode(animal.label)}`,
      }
    }),
  }
}

/** What of these animals' sheets no font on board can draw: it is printed as empty squares, which is told before. */
export async function loadUnprintable(
  tx: Tx,
  { workspaceId, name, contact, claimTerms, foodText }: Workspace,
  { ids, note = '' }: { ids: readonly string[]; note?: string },
): Promise<Warning[]> {
  const animals = await requireIndividuals(tx, workspaceId, ids)
  const profiles = await loadProfiles(tx, workspaceId)
  const species = animals.flatMap(({ speciesId }) => profiles.get(speciesId) ?? [])
  const names = species.flatMap(({ scientificName, commonName }) => [scientificName, commonName])
  const signs = unprintableSigns([...names, name, contact, claimTerms, foodText, note].join(' '))
  if (signs.length === 0) return []
  const shown = `${signs.slice(0, 8).join(' ')}${signs.length > 8 ? ' …' : ''}`
  const message = `The fonts of the sheet have no ${shown}: an empty square stands there instead. Write it in other letters.`
  return [{ code: 'unprintable', message }]
}

export type SheetSubject = {
  animal: IndividualRow
  species: GrownSpecies
  workspace: Workspace
  zones: ZonesById
  choice: SheetChoice
  publicPageUrl: string | null
  before?: PrintedBefore
  sold: ReadonlySet<PreyItem>
  photo?: SheetPhoto
}

/**
 * One animal's sheet, from its records and the care profile in force. An animal that has left is described as it was
 * known on the day it was handed over; its windows follow what was learned of its species since.
 */
export function careSheetPayload(subject: SheetSubject): CareSheetPayload {
  const { animal, species, workspace, zones, choice, publicPageUrl } = subject
  const isLeft = animal.whereabouts === 'sold' || animal.whereabouts === 'given_away'
  if (!isLeft && animal.whereabouts !== 'single')
    throw new AppError(
      'not-found',
      `${formatCode(animal.label)} is not here any more, so there is no sheet of it.`,
    )
  const { profile } = species
  const handedOverOn = isLeft ? animal.whereaboutsSince : null
  const { learned } = species
  const known = { naming: instarNamingOf(workspace), zones, today: handedOverOn ?? workspace.today, learned }
  const outlook = profile && outlookOf(animal, { ...known, profile })
  const until = addDays(workspace.today, CALENDAR_DAYS)
  const coming = profile ? comingMoultsOf(animal, { ...known, profile }, until) : []
  return {
    ...readSheetChoice(choice, workspace),
    units: { temperature: workspace.temperatureUnit, length: workspace.lengthUnit },
    printedOn: workspace.today,
    handedOverOn,
    seller: sellerOf(workspace),
    country: workspace.country,
    species: {
      scientificName: species.scientificName,
      commonName: species.commonName || null,
      kind: species.kind,
      legalNote: PROTECTED_SOMEWHERE.has(species.slug) ? 'proof-of-origin' : 'general',
    },
    animal: animalFacts(subject, outlook),
    ...(profile && outlook
      ? careFacts({ animal, profile, outlook, coming, today: workspace.today, sold: subject.sold })
      : {}),
    publicPageUrl,
    profileVersion: species.profileNumber,
    reprint: reprintOf(subject.before),
  }
}

/** Name, contact and terms as the workspace chose to show them. */
export function sellerOf({ name, contact, claimTerms, foodText }: Workspace): CareSheetPayload['seller'] {
  return { name, contact: contact || null, claimTerms: claimTerms || null, foodText: foodText || null }
}

export const CALENDAR_DAYS = 56
// Protected in parts of its range; the sheet names the kind of duty and defers to the authority.
export const PROTECTED_SOMEWHERE: ReadonlySet<string> = new Set(['mantis-religiosa'])

function animalFacts(
  { animal, workspace, before, photo }: SheetSubject,
  outlook: Outlook | null,
): CareSheetPayload['animal'] {
  const { label, sex, sexCertainty, hatchedOn, lastFedOn, lastFedPrey, mated } = animal
  return {
    labelCode: formatCode(label),
    sex,
    certainty: sexCertainty,
    stage: outlook && { moults: outlook.moults, isAdult: outlook.isAdult, naming: instarNamingOf(workspace) },
    bodyLengthMm: outlook?.lengthMm ?? null,
    hatchedOn,
    lastMoultOn: outlook?.lastMoultOn ?? null,
    lastFed: lastFedOn ? { on: lastFedOn, prey: lastFedPrey } : null,
    mated: outlook?.isAdult && sex === 'female' ? matedWord(mated) : null,
    injuries: injuriesOf(animal.moults) || null,
    note: before?.note || null,
    photo: photo ?? null,
  }
}

function matedWord(mated: boolean | null): 'yes' | 'no' | 'unknown' {
  return mated === null ? 'unknown' : mated ? 'yes' : 'no'
}

type Cared = {
  animal: IndividualRow
  profile: CareProfile
  outlook: Outlook
  coming: ComingMoult[]
  today: PlainDate
  sold: ReadonlySet<PreyItem>
}

function careFacts({ animal, profile, outlook, coming, today, sold }: Cared) {
  const { sex, lastFedOn } = animal
  const { moults, isAdult, softUntil, timeline } = outlook
  const stage = { sex, moults, isAdult, isNextFinal: (coming[0]?.chanceFinal ?? 0) > 0.5 }
  const feeding = feedingNowAndNext(profile, stage)
  const { everyDays } = feeding.now
  return {
    timeline: timeline && sheetTimeline(timeline, isAdult),
    moult: timeline ? sheetMoult(timeline, softUntil) : softUntil ? { softUntilOn: softUntil } : null,
    moultsToCome: sheetWindows(coming),
    calendar: sheetCalendar({ today, moults: coming, everyDays, lastFedOn, softUntil, days: CALENDAR_DAYS }),
    food: soldAmong(sheetFood(feeding), sold),
    home: sheetHome(housingNowAndNext(profile, stage)),
    climate: sheetClimate(profile, sex),
  }
}
