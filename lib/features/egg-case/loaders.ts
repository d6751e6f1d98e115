import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { HatchForecast, HatchInput } from '@/lib/domain/hatch/forecast'
import { type HatchWeek, hatchWeeks, type WaitingEggCase } from '@/lib/domain/hatch/weeks'
import { staysAsOf } from '@/lib/domain/zone/history'
import { type ColonyRow, listClutchesInColony, listColonies } from '@/lib/features/colony/data'
import {
  type EggCaseRow,
  type ForecastGround,
  firstDayOfEggCase,
  forecastEggCase,
  hatchInputOf,
  listEggCases,
  listSiblingClutches,
  requireEggCase,
  speciesFields,
  zoneOfEggCase,
} from '@/lib/features/egg-case/data'
import type { EggCaseAnswer } from '@/lib/features/egg-case/schema'
import { loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { listPapers } from '@/lib/features/paper/data'
import type { PaperRow } from '@/lib/features/paper/schema'
import { loadPublicLinks, type PublicLinkRow } from '@/lib/features/public-link/data'
import { loadProfiles, type SpeciesWithProfile } from '@/lib/features/species/data'
import { loadZonesById, type ZoneRow } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import type { PageScope, WorkspaceId } from '@/lib/platform/workspace'

/** An egg case as the API says it. */
export function presentEggCase(stored: EggCaseRow, ground: ForecastGround): EggCaseAnswer {
  const row = eggCaseAsOf(stored, ground.today)
  const { laidFrom, laidUntil, restStartOn } = row
  return {
    id: row.id,
    label: row.label,
    ...speciesFields(row, ground),
    zone: zoneOfEggCase(row),
    laidOn: row.laidOn,
    laidBetween: laidFrom && laidUntil ? { from: laidFrom, until: laidUntil } : null,
    receivedOn: row.receivedOn,
    mother: row.motherId,
    colony: row.colonyId,
    supplier: row.supplier,
    lot: row.lot,
    notes: row.notes,
    rest:
      restStartOn === null
        ? null
        : {
            startOn: restStartOn,
            plannedEndOn: row.restPlannedEndOn,
            endedOn: row.restEndedOn,
          },
    end: row.end,
    endedOn: row.endedOn,
    hatches: row.hatches.map(presentHatch),
    version: row.version,
    ...presentForecast(row, ground),
  }
}

/** What was known of it on a day, each record by its own day. */
function eggCaseAsOf(row: EggCaseRow, today: PlainDate): EggCaseRow {
  const hasEnded = row.endedOn !== null && row.endedOn <= today
  const hasRested = row.restEndedOn !== null && row.restEndedOn <= today
  return {
    ...row,
    stays: staysAsOf(row.stays, today),
    hatches: row.hatches.filter(({ on }) => on <= today),
    endedOn: hasEnded ? row.endedOn : null,
    end: hasEnded ? row.end : null,
    restStartOn: row.restStartOn !== null && row.restStartOn <= today ? row.restStartOn : null,
    restEndedOn: hasRested ? row.restEndedOn : null,
  }
}

function presentHatch({ id, on, likely, low, high, clutchId }: EggCaseRow['hatches'][number]) {
  const about = low === null || high === null ? null : { low, likely, high }
  return { id, on, count: likely, about, clutch: clutchId }
}

const GONE = { hatchWindow: null, chance: null, chanceWithin: [], expectedNymphs: null }

function presentForecast(row: EggCaseRow, ground: ForecastGround) {
  if (row.endedOn) return { state: 'ended' as const, reason: `Ended on ${row.endedOn}.`, ...GONE }
  const forecast = forecastEggCase(row, ground)
  const state = stateOf(row, forecast)
  if (!forecast) return { state, reason: 'No profile or no temperature to forecast from.', ...GONE }
  const isWindow = forecast.status === 'forecast'
  return {
    state,
    hatchWindow: isWindow ? { p10: forecast.p10, p50: forecast.p50, p90: forecast.p90 } : null,
    chance: forecast.chanceStillHatches,
    chanceWithin: isWindow ? forecast.chanceWithin : [],
    expectedNymphs: forecast.expectedNymphs,
    reason: forecast.reason,
  }
}

function stateOf(row: EggCaseRow, forecast: HatchForecast | null) {
  if (row.hatches.length > 0) return 'hatching' as const
  return forecast?.status === 'resting' ? ('cold-rest' as const) : ('incubating' as const)
}

export type EggCaseView = {
  row: EggCaseRow
  species: SpeciesWithProfile
  zone: ZoneRow | undefined
  forecast: HatchForecast | null
}

type Ground = Omit<ForecastGround, 'zones'> & { zones: ReadonlyMap<string, ZoneRow> }

function viewOf(row: EggCaseRow, ground: Ground): EggCaseView[] {
  const species = ground.species.get(row.speciesId)
  if (!species) return []
  const forecast = row.endedOn ? null : forecastEggCase(row, ground)
  return [{ row, species, zone: ground.zones.get(zoneOfEggCase(row) ?? ''), forecast }]
}

const OPEN_LIMIT = 300
const ENDED_LIMIT = 50

export type EggCasesPage = {
  scope: PageScope
  today: PlainDate
  open: EggCaseView[]
  ended: EggCaseView[]
  /** What may hatch in each of the weeks ahead. */
  weeks: HatchWeek[]
}

const WEEKS_AHEAD = 16

/** The egg cases of a workspace: those still to come by their windows, and the last that ended. */
export async function loadEggCases(slug: string): Promise<EggCasesPage> {
  return loadPage({ slug, permission: 'egg-case:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const profiles = [...(await loadProfiles(tx, workspaceId)).values()]
    const zones = await loadZonesById(tx, workspaceId)
    const species = await loadGrownSpecies(tx, workspaceId, { species: profiles, zones })
    const open = await listEggCases(tx, workspaceId, { isEnded: false, limit: OPEN_LIMIT })
    const ended = await listEggCases(tx, workspaceId, { isEnded: true, limit: ENDED_LIMIT })
    const ground = { species, zones, today }
    return {
      scope,
      today,
      open: open.flatMap((row) => viewOf(row, ground)).sort(soonestFirst),
      ended: ended.flatMap((row) => viewOf(row, ground)),
      weeks: hatchWeeks(
        open.flatMap((row) => waitingOf(row, ground)),
        WEEKS_AHEAD,
      ),
    }
  })
}

function waitingOf(row: EggCaseRow, ground: Ground): WaitingEggCase[] {
  const input = row.hatches.length === 0 ? hatchInputOf(row, ground) : null
  if (!input) return []
  const nymphs = input.nymphs?.typical ?? input.profile.hatch.nymphs.value.typical
  return [{ label: row.label, input, nymphs }]
}

function soonestFirst(a: EggCaseView, b: EggCaseView): number {
  const day = ({ forecast }: EggCaseView) => (forecast?.status === 'forecast' ? forecast.p50 : '9999-12-31')
  return day(a) < day(b) ? -1 : 1
}

export type EggCasePage = EggCaseView & {
  scope: PageScope
  today: PlainDate
  zones: ZoneRow[]
  /** What its window is worked out from, for trying another cold rest. */
  hatchInput: HatchInput | null
  /** of one found in a colony: the clutches of which somebody lived there when it was laid */
  candidates: { id: string; label: string }[]
  /** clutches of other egg cases of its mother that hatched of late, which it may share a tub with */
  siblings: { id: string; label: string }[]
  papers: PaperRow[]
  /** the page behind the code on its sheets; null while none is open */
  publicLink: PublicLinkRow | null
}

/** Nymphs of hatches further apart are of different sizes, and no clutch. */
const SAME_TUB_DAYS = 14

/** One egg case with everything its page shows. */
export async function loadEggCase(slug: string, id: string): Promise<EggCasePage> {
  return loadPage({ slug, permission: 'egg-case:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const row = await requireEggCase(tx, workspaceId, requireIdParam(id))
    const profiles = [...(await loadProfiles(tx, workspaceId)).values()]
    const zones = await loadZonesById(tx, workspaceId)
    const species = await loadGrownSpecies(tx, workspaceId, { species: profiles, zones })
    const [view] = viewOf(row, { species, zones, today })
    if (!view) throw refuseUnknown('egg case')
    const hatchInput =
      row.endedOn || row.hatches.length > 0 ? null : hatchInputOf(row, { species, zones, today })
    const candidates = await listCandidates(tx, workspaceId, row)
    const siblings = row.motherId
      ? await listSiblingClutches(tx, workspaceId, {
          ...{ motherId: row.motherId, not: row.id },
          since: addDays(today, -SAME_TUB_DAYS),
        })
      : []
    const papers = await listPapers(tx, workspaceId, { kind: 'egg_case', id: row.id })
    const pages = await loadPublicLinks(tx, workspaceId, { kind: 'egg-case', ids: [row.id] })
    const publicLink = pages.get(row.id) ?? null
    const known = { zones: [...zones.values()], hatchInput, candidates, siblings, papers, publicLink }
    return { ...view, scope, today, ...known }
  })
}

/** The day it was laid lies between the earliest that is known and the day it came to be seen. */
async function listCandidates(tx: Tx, workspaceId: WorkspaceId, row: EggCaseRow) {
  const first = firstDayOfEggCase(row)
  if (!row.colonyId || !first) return []
  const until = row.laidOn ?? row.laidUntil ?? row.receivedOn ?? first
  return listClutchesInColony(tx, workspaceId, { colonyId: row.colonyId, from: first, until })
}

export type NewEggCasePage = {
  scope: PageScope
  today: PlainDate
  species: SpeciesWithProfile[]
  zones: ZoneRow[]
  /** open ones, in which an egg case may have been found */
  colonies: ColonyRow[]
}

/** What the form for a new egg case offers. */
export async function loadNewEggCase(slug: string): Promise<NewEggCasePage> {
  return loadPage({ slug, permission: 'egg-case:write' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const species = await loadProfiles(tx, workspaceId)
    const zones = await loadZonesById(tx, workspaceId)
    const colonies = await listColonies(tx, workspaceId, { isOpen: true })
    return { scope, today, species: [...species.values()], zones: [...zones.values()], colonies }
  })
}
