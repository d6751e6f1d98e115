import { addDays, daysBetween, type PlainDate } from '@/lib/domain/calendar/date'
import { instarLabel, instarNumber } from '@/lib/domain/instar/label'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import type { RoomForecast } from '@/lib/domain/room-forecast/forecast'
import { MOST_DAYS } from '@/lib/domain/room-forecast/input'
import {
  addSpecies,
  type RoomWeek,
  type SpeciesWeeks,
  type Spread,
  type StageWeeks,
  speciesWeeks,
  stageWeeks,
} from '@/lib/domain/room-forecast/weeks'
import { forecastCollectedRoom, loadRoomGround, type RoomGround } from '@/lib/features/room-forecast/data'
import {
  type RoomForecastAnswer,
  type RoomForecastQuery,
  roomForecastQuery,
} from '@/lib/features/room-forecast/schema'
import type { SpeciesWithProfile } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField } from '@/lib/platform/errors'
import { runInPieces } from '@/lib/platform/in-pieces'
import { loadPage } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

/** A collected room, and for which weeks and whom it was asked. */
export type CollectedRoom = RoomGround & {
  workspace: Workspace
  from: PlainDate
  weeks: number
  speciesId: string | null
}

/** Collects what a room forecast needs. @throws AppError invalid for weeks that lie too far ahead */
export async function loadCollectedRoom(
  tx: Tx,
  workspace: Workspace,
  query: RoomForecastQuery,
): Promise<CollectedRoom> {
  const { weeks } = query
  // A forecast from an earlier day knows what was known then.
  const isPast = query.from !== undefined && query.from < workspace.today
  const asOf = query.asOf ?? (isPast ? query.from : undefined)
  const today = asOf ?? workspace.today
  const from = query.from ?? today
  if (from < today) throw refuseField('from', 'lies before the day that is looked from')
  const days = daysBetween(today, from) + 7 * weeks
  if (days > MOST_DAYS) throw refuseField('weeks', 'end more than 52 weeks after the day that is looked from')
  const collected = await loadRoomGround(tx, workspace, { days, asOf })
  const species = [...collected.ground.species.values()].find(
    ({ id, slug }) => id === query.species || slug === query.species,
  )
  if (query.species && !species) throw refuseField('species', 'There is no such species here.')
  return { ...collected, workspace, from, weeks, speciesId: species?.id ?? null }
}

function saleAges({ ground }: RoomGround) {
  return [...ground.species.values()].flatMap(({ id, profile }) =>
    profile ? [{ id, saleFromMoults: profile.handling.saleFromMoults.value }] : [],
  )
}

/** A forecast as the API says it. */
export function presentRoomForecast(forecast: RoomForecast, collected: CollectedRoom): RoomForecastAnswer {
  const { workspace, ground, speciesId, leftOut } = collected
  const naming = instarNamingOf(workspace)
  const isAsked = (one: { speciesId: string }) => speciesId === null || one.speciesId === speciesId
  const stages = stageWeeks(forecast, collected).filter(isAsked)
  const all = addSpecies(speciesWeeks(forecast, saleAges(collected), collected).filter(isAsked))
  const weeks = Array.from({ length: collected.weeks }, (_, index) => {
    const week = addDays(collected.from, 7 * index)
    const none = { expected: 0, sd: 0, low: 0, high: 0 }
    return {
      week,
      until: addDays(week, 6),
      living: presentSpread(all[index]?.living ?? none),
      ofSaleAge: presentSpread(all[index]?.ofSaleAge ?? none),
      items: stages.flatMap((stage) => {
        const spread = stage.byWeek[index]
        if (!spread || spread.expected < 0.005) return []
        const species = ground.species.get(stage.speciesId)
        const isAdult = stage.moults === null
        return [
          {
            species: stage.speciesId,
            speciesSlug: species?.slug ?? '',
            scientificName: species?.scientificName ?? '',
            sex: stage.sex,
            moults: stage.moults,
            instar: stage.moults === null ? null : instarNumber(stage.moults, naming.convention),
            stage: instarLabel(stage.moults ?? 0, naming, { isAdult }),
            isAdult,
            ...presentSpread(spread),
          },
        ]
      }),
    }
  })
  return { from: collected.from, asOf: ground.today, weeks, leftOut }
}

const round = (value: number) => Math.round(value * 1000) / 1000

function presentSpread({ expected, sd, low, high }: Spread) {
  return { animals: round(expected), sd: round(sd), low: round(low), high: round(high) }
}

export type StageRow = StageWeeks & { key: string; scientificName: string; stage: string }
export type RoomForecastPage = {
  today: PlainDate
  weeks: RoomWeek[]
  /** Each species alone, for those who ask for all. */
  bySpecies: (SpeciesWeeks & { scientificName: string; slug: string })[]
  stages: StageRow[]
  query: { species: string; weeks: number }
  choices: { value: string; label: string }[]
  leftOut: RoomGround['leftOut']
  isEmpty: boolean
}

const SCREEN_WEEKS = 16

/** The room in the weeks to come; an address that was typed by hand shows everything rather than an error. */
export async function loadRoomForecastPage(
  slug: string,
  asked: Record<string, string | string[] | undefined>,
): Promise<RoomForecastPage> {
  const collected = await loadPage({ slug, permission: 'individual:read' }, ({ tx, workspace }) =>
    collectAsked(tx, workspace, asked),
  )
  const { ground, workspace, weeks } = collected
  const forecast = await runInPieces(forecastCollectedRoom(collected.workspace, collected.room))
  const isAsked = (one: { speciesId: string }) =>
    collected.speciesId === null || one.speciesId === collected.speciesId
  const all = speciesWeeks(forecast, saleAges(collected), collected)
  const bySpecies = all.filter(isAsked)
  const naming = instarNamingOf(workspace)
  const speciesOf = (id: string) => ground.species.get(id)
  return {
    today: ground.today,
    weeks: addSpecies(bySpecies),
    bySpecies: bySpecies.map((one) => ({ ...one, ...namesOf(speciesOf(one.speciesId)) })).sort(byName),
    stages: stageWeeks(forecast, collected)
      .filter(isAsked)
      .map((one) => ({
        ...one,
        key: `${one.speciesId} ${one.sex} ${one.moults}`,
        scientificName: speciesOf(one.speciesId)?.scientificName ?? '',
        stage: instarLabel(one.moults ?? 0, naming, { isAdult: one.moults === null }),
      }))
      .filter(({ byWeek }) => byWeek.some(({ expected }) => expected >= 0.5))
      .sort((one, other) => (one.moults ?? 99) - (other.moults ?? 99)),
    query: { species: speciesOf(collected.speciesId ?? '')?.slug ?? '', weeks },
    choices: all
      .map(({ speciesId }) => namesOf(speciesOf(speciesId)))
      .sort(byName)
      .map(({ slug: value, scientificName: label }) => ({ value, label })),
    leftOut: collected.leftOut,
    isEmpty: all.length === 0,
  }
}

async function collectAsked(
  tx: Tx,
  workspace: Workspace,
  asked: Record<string, string | string[] | undefined>,
): Promise<CollectedRoom> {
  const said = Object.fromEntries(Object.entries(asked).filter(([, value]) => value !== ''))
  const parsed = roomForecastQuery
    .pick({ species: true, weeks: true })
    .safeParse({ weeks: SCREEN_WEEKS, ...said })
  const query = parsed.success ? parsed.data : { weeks: SCREEN_WEEKS }
  const collected = await loadCollectedRoom(tx, workspace, { weeks: query.weeks })
  const species = [...collected.ground.species.values()].find(
    (one) => 'species' in query && (one.slug === query.species || one.id === query.species),
  )
  return { ...collected, speciesId: species?.id ?? null }
}

function namesOf(species: SpeciesWithProfile | undefined) {
  return { slug: species?.slug ?? '', scientificName: species?.scientificName ?? '' }
}

function byName(one: { scientificName: string }, other: { scientificName: string }): number {
  return one.scientificName < other.scientificName ? -1 : 1
}
