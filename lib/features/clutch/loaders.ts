import { maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import { type CohortCourse, cohortCourse, listCohortStages } from '@/lib/domain/cohort/course'
import { type InstarNaming, instarLabel } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { type SeparationForecast, sharesByDay } from '@/lib/domain/separation/deadline'
import { sayLossScale } from '@/lib/domain/separation/learned-words'
import { lossScaleOf } from '@/lib/domain/separation/loss-scale'
import { hangingOf } from '@/lib/domain/separation/sighting'
import { staysAsOf } from '@/lib/domain/zone/history'
import {
  type ClutchRow,
  type EntryRow,
  forecastClutch,
  listClutches,
  listEntries,
  requireClutch,
  type SeenTogether,
  separationInputOf,
  zoneOfClutch,
} from '@/lib/features/clutch/data'
import type { ClutchAnswer } from '@/lib/features/clutch/schema'
import { type CohortRow, listCohortLives, traysOf } from '@/lib/features/cohort/data'
import { listContainerKinds } from '@/lib/features/container/data'
import { type ForecastGround, speciesFields } from '@/lib/features/egg-case/data'
import { loadShortFood } from '@/lib/features/food-shortage/data'
import { listDoubts, loadGrownSpecies } from '@/lib/features/growth-fit/data'
import { presentDoubt, type ShownDoubt } from '@/lib/features/growth-fit/schema'
import { loadOwnLosses } from '@/lib/features/sibling-loss/data'
import { loadProfiles, type SpeciesWithProfile } from '@/lib/features/species/data'
import { loadZonesById, type ZoneRow } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { refuseUnknown } from '@/lib/platform/errors'
import { loadPage, requireIdParam } from '@/lib/platform/page'
import type { PageScope, WorkspaceId } from '@/lib/platform/workspace'

/** A clutch as the API says it. */
export function presentClutch(row: ClutchRow, ground: ForecastGround): ClutchAnswer {
  const forecast = forecastClutch(row, ground)
  const profile = ground.species.get(row.speciesId)?.profile
  const isAbout = !row.counted && row.hatchedLow !== null && row.hatchedHigh !== null
  return {
    id: row.id,
    label: row.label,
    ...speciesFields(row, ground),
    zone: zoneOfClutch({ stays: staysAsOf(row.stays, ground.today) }),
    hatchedOn: row.hatchedOn,
    eggCases: [
      ...new Set(row.hatches.filter(({ on }) => on <= ground.today).map(({ eggCaseId }) => eggCaseId)),
    ],
    isCounted: row.counted,
    hatchedBetween: isAbout ? { low: row.hatchedLow ?? 0, high: row.hatchedHigh ?? 0 } : null,
    headCount: row.headCount,
    separation: forecast && presentSeparation(forecast),
    hanging: profile ? hangingOf(row.sightings, { profile, today: ground.today }) : null,
    notes: row.notes,
    version: row.version,
  }
}

function presentSeparation(forecast: SeparationForecast): NonNullable<ClutchAnswer['separation']> {
  const { state, dueOn, lateOn, costOfWaiting, perDayNow, reasons } = forecast
  return {
    state,
    dueOn,
    lateOn,
    expectedLosses: costOfWaiting.map(({ on, expectedLosses }) => ({ on, animals: expectedLosses })),
    perDayNow,
    reasons: reasons.map(({ text }) => text),
  }
}

export type ClutchView = {
  row: ClutchRow
  species: SpeciesWithProfile
  zone: ZoneRow | undefined
  forecast: SeparationForecast | null
}

const LIST_LIMIT = 300

/** The clutches of a workspace, those that cannot wait first. */
export async function loadClutches(
  slug: string,
): Promise<{ scope: PageScope; clutches: ClutchView[]; today: PlainDate }> {
  return loadPage({ slug, permission: 'clutch:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const profiles = [...(await loadProfiles(tx, workspaceId)).values()]
    const zones = await loadZonesById(tx, workspaceId)
    const species = await loadGrownSpecies(tx, workspaceId, { species: profiles, zones })
    const rows = await listClutches(tx, workspaceId, { limit: LIST_LIMIT })
    const losses = await loadOwnLosses(tx, workspaceId, { species, zones, today })
    const shortFood = (await loadShortFood(tx, workspaceId, today)) ?? undefined
    const clutches = rows.flatMap((row) => viewOf(row, { species, zones, today, losses, shortFood }))
    return { scope, today, clutches: clutches.sort(mostUrgentFirst) }
  })
}

const URGENCY = { late: 0, due: 1, fine: 2 }

function mostUrgentFirst(a: ClutchView, b: ClutchView): number {
  const rank = ({ row, forecast }: ClutchView) =>
    row.headCount.together === 0 ? 3 : URGENCY[forecast?.state ?? 'fine']
  return rank(a) - rank(b) || (b.forecast?.perDayNow ?? 0) - (a.forecast?.perDayNow ?? 0)
}

type Ground = Omit<ForecastGround, 'zones'> & { zones: ReadonlyMap<string, ZoneRow> }

function viewOf(row: ClutchRow, ground: Ground): ClutchView[] {
  const species = ground.species.get(row.speciesId)
  if (!species) return []
  return [
    { row, species, zone: ground.zones.get(zoneOfClutch(row) ?? ''), forecast: forecastClutch(row, ground) },
  ]
}

export type ClutchPage = ClutchView & {
  scope: PageScope
  today: PlainDate
  entries: EntryRow[]
  zones: ZoneRow[]
  naming: InstarNaming
  /** How own losses scale the risk, with the number of clutches behind it. */
  lossWords: string
  doubts: ShownDoubt[]
  /** Kinds of container for several animals, as choices. */
  boxes: { value: string; label: string }[]
  /** latest first */
  observations: SeenTogether[]
  cohort: { course: CohortCourse; stages: number[] } | null
  trays: ReturnType<typeof traysOf>
  /** what a moult may lead into, by its number */
  stages: { value: string; label: string }[]
}

/** Kinds of container that siblings can be put into together. */
async function listBoxes(tx: Tx, workspaceId: WorkspaceId): Promise<{ value: string; label: string }[]> {
  const kinds = await listContainerKinds(tx, workspaceId)
  return kinds.filter(({ single }) => !single).map(({ id, name }) => ({ value: id, label: name }))
}

const LEDGER_LIMIT = 200
const COHORT_DAYS_AHEAD = 28
const MOST_MOULTS = 9

/** One clutch with everything its page shows. */
export async function loadClutch(slug: string, id: string): Promise<ClutchPage> {
  return loadPage({ slug, permission: 'clutch:read' }, async ({ tx, scope, workspace }) => {
    const { workspaceId, today } = workspace
    const row = await requireClutch(tx, workspaceId, { id: requireIdParam(id) })
    const profiles = [...(await loadProfiles(tx, workspaceId)).values()]
    const zones = await loadZonesById(tx, workspaceId)
    const species = await loadGrownSpecies(tx, workspaceId, { species: profiles, zones, clutchIds: [row.id] })
    const entries = await listEntries(tx, workspaceId, { clutchId: id, limit: LEDGER_LIMIT })
    const losses = await loadOwnLosses(tx, workspaceId, { species, zones, today })
    const shortFood = (await loadShortFood(tx, workspaceId, today)) ?? undefined
    const [view] = viewOf(row, { species, zones, today, losses, shortFood })
    if (!view) throw refuseUnknown('clutch')
    const lossWords = sayLossScale(lossScaleOf(losses, row.speciesId))
    const boxes = await listBoxes(tx, workspaceId)
    const lives = await listCohortLives(tx, workspaceId, row.id)
    const naming = instarNamingOf(workspace)
    const doubts = await listDoubts(tx, workspaceId, { clutchId: row.id })
    return {
      ...view,
      trays: traysOf(lives),
      lossWords,
      doubts: doubts.map((doubt) => presentDoubt(doubt, { naming, today })),
      boxes,
      scope,
      today,
      entries,
      zones: [...zones.values()],
      naming,
      observations: row.sightings.toReversed(),
      cohort: cohortOf(row, lives, { species, zones, today }),
      stages: Array.from({ length: MOST_MOULTS }, (_, index) => ({
        value: String(index + 1),
        label: instarLabel(index + 1, naming),
      })),
    }
  })
}

/** Until today and some weeks ahead; of a clutch of which nobody is here any more, until the last one left. */
function cohortOf(row: ClutchRow, lives: readonly CohortRow[], ground: Ground): ClutchPage['cohort'] {
  const input = separationInputOf(row, ground)
  if (!input) return null
  const isHere = row.headCount.together > 0 || lives.some(({ untilOn }) => untilOn === null)
  const lastOn = lives.map(({ untilOn }) => untilOn ?? ground.today).reduce(maxDate, row.hatchedOn)
  const course = cohortCourse({
    expectedOn: sharesByDay(input),
    lives,
    sightings: row.sightings,
    hatchedOn: row.hatchedOn,
    today: isHere ? ground.today : lastOn,
    daysAhead: isHere ? COHORT_DAYS_AHEAD : 0,
  })
  return { course, stages: listCohortStages(course) }
}
