import type { PlainDate } from '@/lib/domain/calendar/date'
import { type DayDate, hatchDate, separationDate, taskDates } from '@/lib/domain/day-sheet/dates'
import {
  type DayTask,
  hatchTask,
  incidentTask,
  isLeftAlone,
  moultTasks,
  separationTask,
  sortTasks,
} from '@/lib/domain/day-sheet/task'
import type { BriefOutlook } from '@/lib/domain/individual/brief-outlook'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { sayIncident, saySpan } from '@/lib/domain/zone/incident-words'
import { forecastClutch, listClutches, loadClutchGround } from '@/lib/features/clutch/data'
import { temperaturesOf } from '@/lib/features/culture/data'
import {
  loadOrderTasks,
  readDispatchBook,
  selectDispatchBook,
  type ToldBook,
} from '@/lib/features/dispatch/data'
import { type ForecastGround, forecastEggCase, listEggCases } from '@/lib/features/egg-case/data'
import { listFoodTasks, selectFoodTasks, type ToldTasks } from '@/lib/features/food-plan/data'
import { type DoubtRow, selectDoubts } from '@/lib/features/growth-fit/data'
import {
  type IncidentRow,
  readPressing,
  selectPressing,
  type ToldIncident,
} from '@/lib/features/incident/data'
import { getBriefOutlook, type IndividualRow, listIndividuals } from '@/lib/features/individual/data'
import type { ZoneRow } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { invariant } from '@/lib/platform/errors'
import type { Workspace } from '@/lib/platform/workspace'

/** More than this of one thing is no day's work; the lists show the rest. */
const CLUTCH_LIMIT = 500
const ANIMAL_LIMIT = 2000

export type RestingAnimal = {
  id: string
  label: string
  scientificName: string
  stage: string
  zoneId: string | null
  state: BriefOutlook['state']
  softUntil: PlainDate | null
}

/** A zone in use, with what it is set to, oldest first. */
export type ZoneOfDay = Pick<ZoneRow, 'id' | 'name' | 'setPoints'>

export type DayList = {
  today: PlainDate
  tasks: DayTask[]
  resting: RestingAnimal[]
  isNew: boolean
  /** dates on record that are more likely a slip than true */
  doubts: DoubtRow[]
  /** in use */
  zones: ZoneOfDay[]
}

/** What a day asks for: collected in a fixed number of statements, then computed. */
export async function loadDayList(tx: Tx, workspace: Workspace, asOf?: PlainDate): Promise<DayList> {
  const { workspaceId } = workspace
  const clutches = await listClutches(tx, workspaceId, { isTogether: true, limit: CLUTCH_LIMIT, asOf })
  const eggCases = await listEggCases(tx, workspaceId, { isEnded: false, limit: CLUTCH_LIMIT, asOf })
  const animals = await listIndividuals(tx, workspaceId, {
    filter: { state: 'single', asOf },
    limit: ANIMAL_LIMIT,
  })
  const ground = await loadClutchGround(tx, workspace, { asOf, animals })
  const { freeCups, doubts, zones, ...facts } = await loadDayFacts(tx, workspace)
  // What a zone is like now says nothing about another day.
  const isToday = asOf === undefined || asOf === workspace.today
  const foodTasks = isToday
    ? listFoodTasks(facts.food, workspace.today, temperaturesOf(zones, workspace.today))
    : []
  const incidents = isToday ? readPressing(facts.incidents) : []
  const book = readDispatchBook(facts.book)
  const orderTasks = isToday ? await loadOrderTasks(tx, workspace, { ...ground, animals, book }) : []
  const naming = instarNamingOf(workspace)
  const nameOf = (speciesId: string) => ground.species.get(speciesId)?.scientificName ?? ''
  const { today } = ground
  const outlooks = animals.flatMap((animal) => outlookOn(animal, workspace, ground))
  const tasks = [
    ...incidents.map((incident) => taskOfIncident(incident, workspace)),
    ...foodTasks,
    ...orderTasks,
    ...clutches.flatMap((row) =>
      separationTask(
        {
          id: row.id,
          label: row.label,
          scientificName: nameOf(row.speciesId),
          together: row.headCount.together,
          forecast: forecastClutch(row, ground),
          naming,
        },
        today,
      ),
    ),
    ...eggCases
      .filter((row) => row.hatches.length === 0)
      .flatMap((row) => {
        const { id, label, speciesId } = row
        const forecast = forecastEggCase(row, ground)
        return hatchTask({ id, label, scientificName: nameOf(speciesId), forecast, freeCups }, today)
      }),
    ...moultTasks(
      outlooks.map(({ animal, outlook }) => ({ id: animal.id, ...moultingOf(outlook) })),
      today,
    ),
  ]
  return {
    today,
    tasks: sortTasks(tasks),
    resting: outlooks.flatMap((found) => restingAnimal(found, nameOf)),
    isNew: clutches.length + eggCases.length + animals.length === 0,
    doubts,
    zones,
  }
}

function taskOfIncident(incident: IncidentRow, { temperatureUnit, timeZone, today }: Workspace): DayTask {
  const { id, kind, zoneName, takenByName, takenAt, beganAt, endedAt } = incident
  const span = { beganMs: beganAt.getTime(), endedMs: endedAt?.getTime() ?? null }
  const words = saySpan(span, timeZone, today)
  return incidentTask({
    ...{ id, kind, zoneName, takenByName },
    title: sayIncident(incident, temperatureUnit),
    span: words.charAt(0).toUpperCase() + words.slice(1),
    isTaken: takenAt !== null,
  })
}

function moultingOf({ state, softUntil, nextMoult }: BriefOutlook) {
  return { state, softUntil, chanceTomorrow: nextMoult?.status === 'forecast' ? nextMoult.chanceTomorrow : 0 }
}

type Found = { animal: IndividualRow; outlook: BriefOutlook }

function outlookOn(animal: IndividualRow, workspace: Workspace, ground: ForecastGround): Found[] {
  const { profile, learned = null } = ground.species.get(animal.speciesId) ?? {}
  if (!profile || animal.baselineOn > ground.today) return []
  const { zones, today } = ground
  return [
    {
      animal,
      outlook: getBriefOutlook(animal, { profile, naming: instarNamingOf(workspace), zones, today, learned }),
    },
  ]
}

function restingAnimal({ animal, outlook }: Found, nameOf: (speciesId: string) => string): RestingAnimal[] {
  const { state, softUntil, stage } = outlook
  if (!isLeftAlone(moultingOf(outlook)) && state !== 'overdue') return []
  return [
    {
      id: animal.id,
      label: animal.label,
      scientificName: nameOf(animal.speciesId),
      stage,
      zoneId: animal.stays.findLast(({ until }) => until === null)?.zoneId ?? null,
      state,
      softUntil,
    },
  ]
}

type DayFacts = {
  /** Single cups on the shelf, by the records: stock less those in use, kinds that are short counting as none. */
  freeCups: number
  food: ToldTasks
  book: ToldBook
  incidents: ToldIncident[]
  doubts: DoubtRow[]
  zones: ZoneOfDay[]
}

/** What a day asks for besides animals, clutches and egg cases: one statement. */
async function loadDayFacts(tx: Tx, workspace: Workspace): Promise<DayFacts> {
  const { workspaceId, today } = workspace
  const [facts] = await tx.$queryRaw<DayFacts[]>`
    select
      (select coalesce(sum(greatest(0, k.stock - (
          select count(*) from container c
          where c.workspace_id = k.workspace_id and c.container_kind_id = k.id and c.emptied_on is null))), 0)::int
        from container_kind k
        where k.workspace_id = ${workspaceId}::uuid and k.single and k.archived_at is null) as "freeCups",
      (${selectFoodTasks(workspace)}) as food,
      (${selectDispatchBook(workspaceId, today)}) as book,
      (select coalesce(json_agg(i), '[]') from (${selectPressing(workspaceId)}) i) as incidents,
      (select coalesce(json_agg(json_build_object('id', z.id, 'name', z.name, 'setPoints', (
            select coalesce(json_agg(json_build_object('from', s.from_on, 'dayC', s.day_c, 'nightC', s.night_c)
              order by s.from_on), '[]')
            from zone_set_point s where s.workspace_id = z.workspace_id and s.zone_id = z.id))
          order by z.walking_order, z.name), '[]')
        from zone z where z.workspace_id = ${workspaceId}::uuid and z.archived_at is null) as zones,
      (select coalesce(json_agg(d), '[]') from (${selectDoubts(workspaceId)}) d) as doubts`
  invariant(facts, 'a statement without a table answers one row')
  return facts
}

/** The days that stand in calendars: every deadline and window ahead, and what is of today alone. */
export async function loadDayDates(tx: Tx, workspace: Workspace): Promise<DayDate[]> {
  const { workspaceId } = workspace
  const { tasks, today } = await loadDayList(tx, workspace)
  const clutches = await listClutches(tx, workspaceId, { isTogether: true, limit: CLUTCH_LIMIT })
  const eggCases = await listEggCases(tx, workspaceId, { isEnded: false, limit: CLUTCH_LIMIT })
  const ground = await loadClutchGround(tx, workspace)
  const named = <Row extends { id: string; label: string; speciesId: string }>({
    id,
    label,
    speciesId,
  }: Row) => ({
    ...{ id, label },
    scientificName: ground.species.get(speciesId)?.scientificName ?? '',
  })
  return [
    ...clutches.flatMap((row) => {
      const { together } = row.headCount
      return separationDate({ ...named(row), together, forecast: forecastClutch(row, ground) }, today)
    }),
    ...eggCases
      .filter(({ hatches }) => hatches.length === 0)
      .flatMap((row) => hatchDate({ ...named(row), forecast: forecastEggCase(row, ground) }, today)),
    ...taskDates(tasks, today),
  ]
}
