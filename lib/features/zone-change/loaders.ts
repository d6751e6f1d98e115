import { writeDay } from '@/lib/domain/calendar/wording'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { outlookOf } from '@/lib/domain/individual/outlook'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { isAllowed } from '@/lib/domain/role/permissions'
import type { SeparationForecast } from '@/lib/domain/separation/deadline'
import { readTemperature, type TemperatureUnit, writeTemperature } from '@/lib/domain/zone/temperature-unit'
import {
  groupMoves,
  type Move,
  type MoveGroup,
  type Window,
  windowOfDay,
  zonesWithSetPoint,
} from '@/lib/domain/zone/what-if'
import {
  type ClutchRow,
  forecastClutch,
  listClutches,
  loadClutchGround,
  zoneOfClutch,
} from '@/lib/features/clutch/data'
import {
  type EggCaseRow,
  type ForecastGround,
  forecastEggCase,
  listEggCases,
  zoneOfEggCase,
} from '@/lib/features/egg-case/data'
import { type IndividualRow, listIndividuals } from '@/lib/features/individual/data'
import { getSetPointOn, requireZone, type SetPoint, type ZoneRow } from '@/lib/features/zone/data'
import type { ZoneChangeSearch } from '@/lib/features/zone-change/schema'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

/** One egg case or clutch with how its date moves. */
export type NamedMove = Move & { id: string; label: string; scientificName: string }
/** Animals of one kind and stage together. */
export type AnimalMoves = MoveGroup & { key: string; scientificName: string; stage: string }

export type ZoneChangePage = {
  zone: ZoneRow
  today: string
  unit: TemperatureUnit
  mayWrite: boolean
  inForce: SetPoint | undefined
  /** What is tried, °C. */
  tried: { dayC: number; nightC: number | null }
  isOutOfRange: boolean
  /** What the care profiles say against it. */
  cautions: string[]
  /** Later set points, which stay. */
  planned: SetPoint[]
  eggCases: NamedMove[]
  clutches: NamedMove[]
  animals: AnimalMoves[]
}

const LIMIT = 500
const ANIMAL_LIMIT = 2000
const LOWEST_C = -30
const HIGHEST_C = 60

/** What another temperature of a zone, from today on, would do to the dates of what stands in it. */
export async function loadZoneChange(
  slug: string,
  id: string,
  search: ZoneChangeSearch,
): Promise<ZoneChangePage> {
  return loadPage({ slug, permission: 'zone:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today, temperatureUnit: unit } = workspace
    const zoneId = requireIdParam(id)
    const zone = await requireZone(tx, workspaceId, zoneId)
    const eggCases = await listEggCases(tx, workspaceId, { isEnded: false, limit: LIMIT })
    const clutches = await listClutches(tx, workspaceId, { isTogether: true, limit: LIMIT })
    const filter = { state: 'single' as const, zoneId }
    const animals = await listIndividuals(tx, workspaceId, { filter, limit: ANIMAL_LIMIT })
    const before = await loadClutchGround(tx, workspace, { animals })
    const inForce = getSetPointOn(zone.setPoints, today)
    const tried = readTried(search, inForce, unit)
    const setPoint = { from: today, ...tried }
    const after = { ...before, zones: zonesWithSetPoint(before.zones, { zoneId, setPoint }) }
    const grounds = { before, after }
    const here = {
      eggCases: eggCases.filter((row) => zoneOfEggCase(row) === zoneId && row.hatches.length === 0),
      clutches: clutches.filter((row) => zoneOfClutch(row) === zoneId),
    }
    return {
      ...{ zone, today, unit, inForce, tried },
      mayWrite: isAllowed(scope.role, 'zone:write') && zone.archivedOn === null,
      isOutOfRange: [tried.dayC, tried.nightC ?? tried.dayC].some((c) => c < LOWEST_C || c > HIGHEST_C),
      cautions: listCautions([...here.eggCases, ...here.clutches, ...animals], before, { ...tried, unit }),
      planned: zone.setPoints.filter(({ from }) => from > today),
      eggCases: here.eggCases.map((row) => moveOfEggCase(row, grounds)),
      clutches: here.clutches.map((row) => moveOfClutch(row, grounds)),
      animals: groupAnimals(animals, workspace, grounds),
    }
  })
}

function readTried(
  { day, night }: ZoneChangeSearch,
  inForce: SetPoint | undefined,
  unit: TemperatureUnit,
): { dayC: number; nightC: number | null } {
  const round = (temperatureC: number) => Math.round(temperatureC * 100) / 100
  return {
    dayC: day === undefined ? (inForce?.dayC ?? 25) : round(readTemperature(day, unit)),
    nightC: night === undefined ? (inForce?.nightC ?? null) : round(readTemperature(night, unit)),
  }
}

type Grounds = { before: ForecastGround; after: ForecastGround }

function nameOf({ speciesId }: { speciesId: string }, ground: ForecastGround): string {
  return ground.species.get(speciesId)?.scientificName ?? ''
}

function moveOfEggCase(row: EggCaseRow, { before, after }: Grounds): NamedMove {
  const windowIn = (ground: ForecastGround): Window | null => {
    const forecast = forecastEggCase(row, ground)
    return forecast?.status === 'forecast' ? forecast : null
  }
  const { id, label } = row
  return { id, label, scientificName: nameOf(row, before), before: windowIn(before), after: windowIn(after) }
}

function moveOfClutch(row: ClutchRow, { before, after }: Grounds): NamedMove {
  const { id, label } = row
  return {
    ...{ id, label, scientificName: nameOf(row, before) },
    before: dueWindow(forecastClutch(row, before)),
    after: dueWindow(forecastClutch(row, after)),
  }
}

function dueWindow(forecast: SeparationForecast | null): Window | null {
  return forecast?.dueOn ? windowOfDay(forecast.dueOn, forecast.dueBetween) : null
}

/** Animals by kind and stage, the most numerous first. */
function groupAnimals(
  animals: readonly IndividualRow[],
  workspace: Workspace,
  { before, after }: Grounds,
): AnimalMoves[] {
  const groups = new Map<string, { scientificName: string; stage: string; moves: Move[] }>()
  for (const animal of animals) {
    const { profile, learned = null } = before.species.get(animal.speciesId) ?? {}
    if (!profile || animal.baselineOn > before.today) continue
    const known = { profile, naming: instarNamingOf(workspace), today: before.today, learned }
    const now = outlookOf(animal, { ...known, zones: before.zones })
    if (now.isAdult) continue
    const then = outlookOf(animal, { ...known, zones: after.zones })
    const key = `${animal.speciesId} ${now.stage}`
    const group = groups.get(key) ?? { scientificName: animal.scientificName, stage: now.stage, moves: [] }
    group.moves.push({ before: windowOf(now.nextMoult), after: windowOf(then.nextMoult) })
    groups.set(key, group)
  }
  return [...groups]
    .map(([key, { moves, ...named }]) => ({ key, ...named, ...groupMoves(moves) }))
    .sort((a, b) => b.count - a.count || a.key.localeCompare(b.key))
}

function windowOf(forecast: ReturnType<typeof outlookOf>['nextMoult']): Window | null {
  return forecast?.status === 'forecast' ? forecast : null
}

type Tried = { dayC: number; nightC: number | null; unit: TemperatureUnit }

/** What the care profiles of those who stand there say against it, a sentence each. */
function listCautions(
  rows: readonly { speciesId: string }[],
  { species }: ForecastGround,
  tried: Tried,
): string[] {
  const ids = new Set(rows.map(({ speciesId }) => speciesId))
  return [...ids].flatMap((id) => {
    const found = species.get(id)
    return found?.profile ? cautionsOf(found.scientificName, found.profile, tried) : []
  })
}

function cautionsOf(name: string, { keeping }: CareProfile, { dayC, nightC, unit }: Tried): string[] {
  const { min, max } = keeping.dayC.value
  const lowest = keeping.lowestNightC.value
  const range = `${writeTemperature(min, unit)} to ${writeTemperature(max, unit)}`
  return [
    ...(dayC < min || dayC > max ? [`${name} is usually kept at ${range} by day.`] : []),
    ...((nightC ?? dayC) < lowest
      ? [`${name} is usually not kept below ${writeTemperature(lowest, unit)} by night.`]
      : []),
  ]
}

/** "from 3 Dec: 24 °C" */
export function sayPlanned(
  { from, dayC }: SetPoint,
  { today, unit }: { today: string; unit: TemperatureUnit },
): string {
  return `from ${writeDay(from, today)}: ${writeTemperature(dayC, unit)}`
}
