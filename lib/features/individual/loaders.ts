import type { PlainDate } from '@/lib/domain/calendar/date'
import { forecastAdultOf, outlookOf } from '@/lib/domain/individual/outlook'
import { remainingLifeOf } from '@/lib/domain/individual/remaining-life'
import { type StateWords, stateWords } from '@/lib/domain/individual/state-words'
import { conventionNote, moultsOfInstar } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { listStages } from '@/lib/domain/instar/stages'
import { parseCode } from '@/lib/domain/label/code'
import { SAFE_OVERRIDES, sayKeptBack } from '@/lib/domain/role/overrides'
import { isAllowed, type Permission } from '@/lib/domain/role/permissions'
import { leaveOfAnimal } from '@/lib/domain/sale/leave-of-animal'
import { type ZonesById, zonesAsOf } from '@/lib/domain/zone/history'
import { sayQuarantine } from '@/lib/domain/zone/quarantine'
import { codesOf } from '@/lib/features/clearance/data'
import { listContainerKinds } from '@/lib/features/container/data'
import { type GrownSpecies, listDoubts, loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { presentDoubt } from '@/lib/features/growth-fit/schema'
import { loadIndividualHistory } from '@/lib/features/history/data'
import {
  getBriefOutlook,
  type IndividualFilter,
  type IndividualRow,
  listIndividuals,
  requireIndividual,
} from '@/lib/features/individual/data'
import {
  type ForecastAnswer,
  type IndividualAnswer,
  type IndividualQuery,
  individualQuery,
  presentForecast,
  presentIndividual,
} from '@/lib/features/individual/schema'
import { listPhotos, presentPhoto } from '@/lib/features/photo/data'
import { listPagesOfAnimal } from '@/lib/features/public-link/data'
import {
  listSpecies,
  loadProfiles,
  loadSpeciesById,
  requireSpecies,
  type SpeciesRow,
  type SpeciesWithProfile,
} from '@/lib/features/species/data'
import { listZones, loadZonesById, type ZoneRow } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { invariant, refuseField } from '@/lib/platform/errors'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import { asOfOrToday } from '@/lib/platform/plain-date-schema'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** One animal as the API answers it. */
export async function loadIndividualAnswer(
  tx: Tx,
  workspace: Workspace,
  id: string,
): Promise<IndividualAnswer> {
  const animal = await requireIndividual(tx, workspace.workspaceId, id)
  const species = await requireSpecies(tx, workspace.workspaceId, animal.speciesId)
  return presentIndividual(animal, species, instarNamingOf(workspace))
}

/** A page of animals as the API answers it. */
export async function loadIndividualAnswers(
  tx: Tx,
  workspace: Workspace,
  query: IndividualQuery,
): Promise<{ items: IndividualAnswer[]; nextCursor: string | null }> {
  const { workspaceId } = workspace
  const species = query.species ? await loadSpeciesById(tx, workspaceId) : new Map()
  const { rows, nextCursor } = await loadPageOfRows(tx, workspace, { query, species })
  const naming = instarNamingOf(workspace)
  const items = rows.map((row) =>
    presentIndividual(
      row,
      { id: row.speciesId, slug: row.speciesSlug, scientificName: row.scientificName },
      naming,
    ),
  )
  return { items, nextCursor }
}

/** One animal's windows, as they were known on a day. */
export async function loadForecastAnswer(
  tx: Tx,
  workspace: Workspace,
  { id, asOf }: { id: string; asOf?: string },
): Promise<ForecastAnswer> {
  const { workspaceId } = workspace
  const today = asOfOrToday(asOf, workspace.today)
  const animal = await requireIndividual(tx, workspaceId, id)
  if (today < animal.baselineOn) throw refuseField('asOf', `Its record begins on ${animal.baselineOn}.`)
  const species = await requireSpecies(tx, workspaceId, animal.speciesId)
  const zones = zonesAsOf(await loadZonesById(tx, workspaceId), asOf ?? null)
  const { profile, learned } = await loadGrown(tx, workspaceId, { species, zones, animal, asOf })
  const naming = instarNamingOf(workspace)
  const known = profile && { profile, naming, zones, today, learned }
  const outlook = known && outlookOf(animal, known)
  const adult = known && forecastAdultOf(animal, known)
  const life = known && remainingLifeOf(animal, known)
  return presentForecast(animal, { outlook, adult, life }, today)
}

type OneGrown = { species: SpeciesWithProfile; zones: ZonesById; animal: { id: string }; asOf?: PlainDate }

/** What was learned of one animal's species. */
async function loadGrown(
  tx: Tx,
  workspaceId: WorkspaceId,
  { species, animal, ...known }: OneGrown,
): Promise<GrownSpecies> {
  const found = await loadGrownSpecies(tx, workspaceId, { ...known, species: [species], animals: [animal] })
  return requireListed(found, species.id)
}

type Asked = { query: IndividualQuery; species: ReadonlyMap<string, SpeciesRow> }

async function loadPageOfRows(
  tx: Tx,
  workspace: Workspace,
  { query, species }: Asked,
): Promise<{ rows: IndividualRow[]; nextCursor: string | null }> {
  const filter = readFilter(query, workspace, species)
  if (filter === 'nothing') return { rows: [], nextCursor: null }
  const { limit, cursor } = query
  const found = await listIndividuals(tx, workspace.workspaceId, { filter, limit: limit + 1, cursor })
  const rows = found.slice(0, limit)
  return { rows, nextCursor: found.length > limit ? (rows.at(-1)?.id ?? null) : null }
}

/** What was asked for in the workspace's own words, as the stored values; `nothing` where nothing can match. */
function readFilter(
  query: IndividualQuery,
  workspace: Workspace,
  known: Asked['species'],
): IndividualFilter | 'nothing' {
  const { species, instar, sex, zone, clutch, state, label } = query
  const filter: IndividualFilter = { sex, zoneId: zone, clutchId: clutch, state }
  if (species) {
    const found = [...known.values()].find((row) => row.id === species || row.slug === species)
    if (!found) return 'nothing'
    filter.speciesId = found.id
  }
  if (instar === 'adult') filter.adult = true
  else if (instar !== undefined) {
    const moults = moultsOfInstar(instar, instarNamingOf(workspace).convention)
    if (moults === null) return 'nothing'
    Object.assign(filter, { moults, adult: false })
  }
  if (label?.trim()) filter.label = readLabel(label)
  return filter
}

/** A whole code is read forgivingly; the beginning of one as it was typed. */
function readLabel(typed: string): string {
  const parsed = parseCode(typed)
  return parsed.status === 'ok' ? parsed.code : typed.toUpperCase().replace(/[^A-Z0-9]/g, '')
}

function requireListed<T extends SpeciesRow>(listed: ReadonlyMap<string, T>, speciesId: string): T {
  const species = listed.get(speciesId)
  invariant(species, 'an animal is of a species that is listed')
  return species
}

/** One line of the list of animals. */
export type ListedIndividual = {
  id: string
  label: string
  scientificName: string
  stage: string
  sex: IndividualRow['sex']
  sexCertainty: IndividualRow['sexCertainty']
  zone: string | null
  container: string | null
  whereabouts: IndividualRow['whereabouts']
  lastFedOn: PlainDate | null
  words: StateWords | null
}

export type IndividualListPage = {
  items: ListedIndividual[]
  nextCursor: string | null
  query: IndividualQuery
  isFiltered: boolean
  choices: {
    species: { value: string; label: string }[]
    zones: { value: string; label: string }[]
    kinds: { value: string; label: string }[]
    stages: { value: string; label: string }[]
  }
  today: PlainDate
  mayWrite: boolean
  mayPlace: boolean
  mayPrint: boolean
}

/** The list of animals as the address asks for it; those that are here where it does not say. */
export function loadIndividualListPage(
  slug: string,
  asked: Record<string, string | string[] | undefined>,
): Promise<IndividualListPage> {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today } = workspace
    const query = readListQuery(asked)
    const species = await loadSpeciesById(tx, workspaceId)
    const zones = await loadZonesById(tx, workspaceId)
    const kinds = await listContainerKinds(tx, workspaceId)
    const { rows, nextCursor } = await loadPageOfRows(tx, workspace, { query, species })
    const profiles = await loadProfiles(
      tx,
      workspaceId,
      rows.map(({ speciesId }) => speciesId),
    )
    const grown = await loadGrownSpecies(tx, workspaceId, {
      species: [...profiles.values()],
      zones,
      animals: rows,
    })
    const present = { species: grown, zones, workspace }
    return {
      items: rows.map((row) => presentListed(row, present)),
      nextCursor,
      query,
      isFiltered: Object.keys(asked).some((key) => key !== 'cursor'),
      choices: {
        species: [...species.values()].map(({ slug: value, scientificName: label }) => ({ value, label })),
        zones: zoneChoices(zones),
        kinds: kinds.map(({ id, name, free }) => ({ value: id, label: `${name} (${free} free)` })),
        stages: listStages(instarNamingOf(workspace)),
      },
      today,
      mayWrite: isAllowed(scope.role, 'individual:write'),
      mayPlace: isAllowed(scope.role, 'individual:place'),
      mayPrint: isAllowed(scope.role, 'care-sheet:print'),
    }
  })
}

/** "Side room, in quarantine until 3 Dec" */
function nameWithQuarantine(zone: ZoneRow | undefined, today: PlainDate): string | null {
  if (!zone) return null
  const quarantine = sayQuarantine(zone.quarantineUntil, today)
  return quarantine ? `${zone.name}, ${quarantine}` : zone.name
}

/** The zones that something can be put into: old records stand in archived ones, nothing new does. */
function zoneChoices(zones: ReadonlyMap<string, ZoneRow>): { value: string; label: string }[] {
  const open = [...zones.values()].filter(({ archivedOn }) => archivedOn === null)
  return open.map(({ id, name }) => ({ value: id, label: name }))
}

/** An address that was typed by hand shows everything rather than an error. */
function readListQuery(asked: Record<string, string | string[] | undefined>): IndividualQuery {
  const said = Object.fromEntries(Object.entries(asked).filter(([, value]) => value !== ''))
  const state = 'label' in said || 'state' in said ? {} : { state: 'single' }
  const { state: wanted, ...rest } = { ...state, ...said }
  const parsed = individualQuery.safeParse(
    wanted === 'any' ? rest : { ...rest, ...(wanted ? { state: wanted } : {}) },
  )
  return parsed.success ? parsed.data : individualQuery.parse({ state: 'single' })
}

type Presenting = {
  species: ReadonlyMap<string, GrownSpecies>
  zones: Awaited<ReturnType<typeof loadZonesById>>
  workspace: Workspace
}

function presentListed(row: IndividualRow, { species, zones, workspace }: Presenting): ListedIndividual {
  const { profile, scientificName, learned } = requireListed(species, row.speciesId)
  const naming = instarNamingOf(workspace)
  const { today } = workspace
  const outlook = profile && getBriefOutlook(row, { profile, zones, naming, today, learned })
  const stay = row.stays.findLast(({ until }) => until === null)
  const { id, label, sex, sexCertainty, whereabouts, lastFedOn } = row
  return {
    id,
    label,
    scientificName,
    stage: outlook?.stage ?? '',
    sex,
    sexCertainty,
    zone: stay ? nameWithQuarantine(zones.get(stay.zoneId), today) : null,
    container: stay?.kindName ?? null,
    whereabouts,
    lastFedOn,
    words: outlook && whereabouts === 'single' ? stateWords(outlook, today) : null,
  }
}

/** One animal with its timeline, its windows and its story. */
export function loadIndividualPage(slug: string, id: string) {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today } = workspace
    const animal = await requireIndividual(tx, workspaceId, requireIdParam(id))
    const species = await requireSpecies(tx, workspaceId, animal.speciesId)
    const zones = await loadZonesById(tx, workspaceId)
    const kinds = await listContainerKinds(tx, workspaceId)
    const history = await loadIndividualHistory(tx, workspaceId, animal.id)
    const pages = await listPagesOfAnimal(tx, workspaceId, animal.id)
    const photos = await listPhotos(tx, workspaceId, animal.id)
    const doubts = await listDoubts(tx, workspaceId, { individualId: animal.id })
    const naming = instarNamingOf(workspace)
    const { scientificName, commonName } = species
    const { profile, learned } = await loadGrown(tx, workspaceId, { species, zones, animal })
    const { leave, outlook } = leaveOfAnimal(animal, { profile, zones, naming, today, learned })
    const rules = history.overrides ?? SAFE_OVERRIDES
    const clearances = history.clearances.filter(({ on }) => on === today)
    const may = (permission: Permission) => isAllowed(scope.role, permission)
    const adult = profile && forecastAdultOf(animal, { profile, zones, naming, today, learned })
    return {
      animal,
      adult,
      life: profile && remainingLifeOf(animal, { profile, zones, naming, today, learned }),
      doubts: doubts.map((doubt) => presentDoubt(doubt, { naming, today })),
      species: { scientificName, commonName, slug: species.slug },
      outlook,
      leave,
      clearances,
      keptBack: sayKeptBack(leave.blocks, {
        ...{ role: scope.role, rules },
        cleared: codesOf(clearances),
      }),
      words: outlook && animal.whereabouts === 'single' ? stateWords(outlook, today) : null,
      conventionNote: conventionNote(naming),
      history,
      publicLink: pages.find(({ subjectId }) => subjectId === animal.id) ?? null,
      lotLinks: pages.filter(({ subjectId }) => subjectId !== animal.id),
      photos: photos.map(presentPhoto),
      papers: history.papers,
      zones: zoneChoices(zones),
      kinds: kinds.map(({ id: value, name, free }) => ({ value, label: `${name} (${free} free)` })),
      today,
      may: {
        write: may('individual:write'),
        place: may('individual:place'),
        clear: may('individual:clear'),
        print: may('care-sheet:print'),
        revoke: may('public-link:revoke'),
        sell: may('sale:write'),
      },
    }
  })
}
export type IndividualPage = Awaited<ReturnType<typeof loadIndividualPage>>

/** What can be chosen for animals that came from elsewhere. */
export function loadNewIndividualPage(slug: string) {
  return loadPage({ slug, permission: 'individual:write' }, async ({ tx, workspace }) => {
    const species = await listSpecies(tx, workspace.workspaceId)
    const zones = await listZones(tx, workspace.workspaceId)
    const kinds = await listContainerKinds(tx, workspace.workspaceId)
    const naming = instarNamingOf(workspace)
    return {
      species: species.map(({ slug: value, scientificName: label }) => ({ value, label })),
      zones: zones.map(({ id: value, name: label }) => ({ value, label })),
      kinds: kinds.map(({ id: value, name, free }) => ({ value, label: `${name} (${free} free)` })),
      stages: listStages(naming),
      conventionNote: conventionNote(naming),
      today: workspace.today,
    }
  })
}
export type NewIndividualPage = Awaited<ReturnType<typeof loadNewIndividualPage>>
