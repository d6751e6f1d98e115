import {
  sheetClimate,
  sheetFood,
  sheetHome,
  sheetMoult,
  sheetTimeline,
  sheetWindows,
} from '@/lib/documents/care-sheet/from-forecasts'
import type { CareSheetPayload, Paper } from '@/lib/documents/care-sheet/payload'
import type { LabelRunPayload } from '@/lib/documents/label/render'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { sheetCalendar } from '@/lib/domain/care-sheet/calendar'
import { feedingNowAndNext } from '@/lib/domain/care-sheet/feeding'
import { housingNowAndNext } from '@/lib/domain/care-sheet/housing'
import type { ComingMoult } from '@/lib/domain/development/forecast'
import { injuriesOf } from '@/lib/domain/individual/injury'
import { comingMoultsOf, type Outlook, outlookOf } from '@/lib/domain/individual/outlook'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode } from '@/lib/domain/label/code'
import type { ZonesById } from '@/lib/domain/zone/history'
import type { SheetChoice } from '@/lib/features/care-sheet/schema'
import { type GrownSpecies, loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { type IndividualRow, requireIndividuals } from '@/lib/features/individual/data'
import { loadPublicLinks } from '@/lib/features/public-link/data'
import { loadProfiles } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import { isLanguage, type Language } from '@/lib/messages/language'
import type { Tx } from '@/lib/platform/db'
import { AppError, invariant } from '@/lib/platform/errors'
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
  const links = await loadPublicLinks(tx, workspaceId, ids)
  return animals.map((animal) => {
    const species = profiles.get(animal.speciesId)
    invariant(species, 'an animal is of a species that is listed')
    const publicPageUrl = links.get(animal.id)?.address ?? null
    return careSheetPayload({ animal, species, workspace, zones, choice, publicPageUrl })
  })
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

export type SheetSubject = {
  animal: IndividualRow
  species: GrownSpecies
  workspace: Workspace
  zones: ZonesById
  choice: SheetChoice
  publicPageUrl: string | null
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
    seller: {
      name: workspace.name,
      contact: workspace.contact || null,
      claimTerms: workspace.claimTerms || null,
    },
    species: {
      scientificName: species.scientificName,
      commonName: species.commonName || null,
      kind: species.kind,
      legalNote: PROTECTED_SOMEWHERE.has(species.slug) ? 'proof-of-origin' : 'general',
    },
    animal: animalFacts(subject, outlook),
    ...(profile && outlook ? careFacts({ animal, profile, outlook, coming, today: workspace.today }) : {}),
    publicPageUrl,
    profileVersion: species.profileNumber,
  }
}

const CALENDAR_DAYS = 56
// Protected in parts of its range; the sheet names the kind of duty and defers to the authority.
const PROTECTED_SOMEWHERE = new Set(['mantis-religiosa'])

function animalFacts(
  { animal, workspace }: SheetSubject,
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
}

function careFacts({ animal, profile, outlook, coming, today }: Cared) {
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
    food: sheetFood(feeding),
    home: sheetHome(housingNowAndNext(profile, stage)),
    climate: sheetClimate(profile, sex),
  }
}
