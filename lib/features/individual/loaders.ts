import { outlookOf } from '@/lib/domain/individual/outlook'
import { moultsOfInstar } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { parseCode } from '@/lib/domain/label/code'
import { zonesAsOf } from '@/lib/domain/zone/history'
import {
  type IndividualFilter,
  type IndividualRow,
  listIndividuals,
  requireIndividual,
} from '@/lib/features/individual/data'
import {
  type ForecastAnswer,
  type IndividualAnswer,
  type IndividualQuery,
  presentForecast,
  presentIndividual,
} from '@/lib/features/individual/schema'
import { loadProfiles, requireSpecies, type SpeciesWithProfile } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { invariant, refuseField } from '@/lib/platform/errors'
import { asOfOrToday } from '@/lib/platform/plain-date-schema'
import type { Workspace } from '@/lib/platform/workspace'

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
  const profiles = await loadProfiles(tx, workspaceId)
  const { rows, nextCursor } = await loadPage(tx, workspace, { query, profiles })
  const items = rows.map((row) =>
    presentIndividual(row, requireProfiled(profiles, row.speciesId), instarNamingOf(workspace)),
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
  const { profile } = await requireSpecies(tx, workspaceId, animal.speciesId)
  const zones = zonesAsOf(await loadZonesById(tx, workspaceId), asOf ?? null)
  const naming = instarNamingOf(workspace)
  return presentForecast(animal, profile && outlookOf(animal, { profile, naming, zones, today }), today)
}

type Asked = { query: IndividualQuery; profiles: ReadonlyMap<string, SpeciesWithProfile> }

async function loadPage(
  tx: Tx,
  workspace: Workspace,
  { query, profiles }: Asked,
): Promise<{ rows: IndividualRow[]; nextCursor: string | null }> {
  const filter = readFilter(query, workspace, profiles)
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
  profiles: Asked['profiles'],
): IndividualFilter | 'nothing' {
  const { species, instar, sex, zone, clutch, state, label } = query
  const filter: IndividualFilter = { sex, zoneId: zone, clutchId: clutch, state }
  if (species) {
    const found = [...profiles.values()].find((row) => row.id === species || row.slug === species)
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

function requireProfiled(profiles: Asked['profiles'], speciesId: string): SpeciesWithProfile {
  const species = profiles.get(speciesId)
  invariant(species, 'an animal is of a species that is listed')
  return species
}
