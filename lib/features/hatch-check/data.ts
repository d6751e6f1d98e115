import { addDays, daysBetween, maxDate, type PlainDate } from '@/lib/domain/calendar/date'
import type { HatchForecast, HatchInput } from '@/lib/domain/hatch/forecast'
import { forecastHatch } from '@/lib/domain/hatch/forecast'
import { type RoomWeekHands, spokenFor } from '@/lib/domain/hatch-check/answer'
import {
  type HatchLoad,
  type HatchPlace,
  hatchGrowth,
  hatchLoad,
  type WeekSpan,
} from '@/lib/domain/hatch-check/load'
import type { MovePlace } from '@/lib/domain/hatch-check/move'
import type { PreyLine } from '@/lib/domain/prey/line'
import { minutesByDay } from '@/lib/domain/separation/bench-hours'
import type { LearnedLabour } from '@/lib/domain/separation/labour'
import { historyOfKnownZone } from '@/lib/domain/zone/history'
import { futureSpreadC } from '@/lib/domain/zone/spread'
import { type ClutchRow, forecastClutch, listClutches, zoneOfClutch } from '@/lib/features/clutch/data'
import { type ContainerKindRow, listContainerKinds } from '@/lib/features/container/data'
import {
  type EggCaseRow,
  type ForecastGround,
  forecastEggCase,
  hatchInputOf,
  listEggCases,
  loadForecastGround,
  zoneOfEggCase,
} from '@/lib/features/egg-case/data'
import type { HatchCheckQuestion } from '@/lib/features/hatch-check/schema'
import { listPreyLines } from '@/lib/features/prey/data'
import { loadBenchHours, loadLabour } from '@/lib/features/separation-plan/data'
import { listZones } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField, refuseUnknown } from '@/lib/platform/errors'
import type { Workspace } from '@/lib/platform/workspace'

export const CHECK_WEEKS = 16
const LIMIT = 500

type Forecast = Extract<HatchForecast, { status: 'forecast' }>

/** Everything the question is answered from. */
export type HatchCheckGround = {
  workspace: Workspace
  ground: ForecastGround
  span: WeekSpan
  input: HatchInput
  forecast: Forecast
  /** The egg case asked about; null for one that nobody has bought yet. */
  eggCase: EggCaseRow | null
  speciesId: string
  zoneId: string
  place: HatchPlace
  room: RoomWeekHands[]
  lines: PreyLine[]
  /** Where it could hang. */
  zones: MovePlace[]
}

/** @throws AppError not-found; invalid where no window can be given */
export async function loadHatchCheckGround(
  tx: Tx,
  workspace: Workspace,
  asked: HatchCheckQuestion,
): Promise<HatchCheckGround> {
  const { workspaceId, today } = workspace
  const span = { from: today, weeks: CHECK_WEEKS }
  const ground = await loadForecastGround(tx, workspace)
  const eggCases = await listEggCases(tx, workspaceId, { isEnded: false, limit: LIMIT })
  const clutches = await listClutches(tx, workspaceId, { isTogether: true, limit: LIMIT })
  const hours = await loadBenchHours(tx, workspaceId, { from: today, days: 7 * CHECK_WEEKS })
  const labour = await loadLabour(tx, workspaceId)
  const kinds = await listContainerKinds(tx, workspaceId)
  const lines = await listPreyLines(tx, workspaceId)
  const zones = await listZones(tx, workspaceId)
  if (asked.zone && !zones.some(({ id }) => id === asked.zone)) throw refuseUnknown('zone')
  const subject = subjectOf(asked, { ground, eggCases })
  const forecast = forecastHatch(subject.input)
  if (forecast.status !== 'forecast') throw refuseField('eggCase', forecast.reason)
  const places = placesOf(ground, { labour, span })
  const place = places(subject.speciesId, subject.zoneId)
  if (!place) throw refuseField('zone', 'No temperature is known there, so nothing can be forecast.')
  const loads = [
    ...clutches.flatMap((row) => clutchLoad(row, { ground, places, span })),
    ...eggCases
      .filter((row) => row.id !== asked.eggCase && row.hatches.length === 0)
      .flatMap((row) => eggCaseLoad(row, { ground, places, span })),
  ]
  const minutesOn = minutesByDay(
    hours.minutesByWeekday,
    { from: today, days: 7 * CHECK_WEEKS },
    hours.unusual,
  )
  return {
    ...subject,
    workspace,
    ground,
    span,
    forecast: asked.nymphs ? withNymphs(forecast, asked.nymphs) : forecast,
    place,
    room: spokenFor(loads, { minutesOn, cupsOn: cupsOf(kinds) }, span),
    lines: lines.filter(({ kept }) => kept).map(({ line }) => line),
    zones: zones.flatMap(({ id, name }) => {
      const zone = ground.zones.get(id)
      const history = zone ? historyOfKnownZone(zone) : []
      return history.length > 0 ? [{ id, name, history }] : []
    }),
  }
}

function withNymphs(forecast: Forecast, typical: number): Forecast {
  return { ...forecast, expectedNymphs: { low: typical, typical, high: typical } }
}

type Subject = Pick<HatchCheckGround, 'input' | 'eggCase' | 'speciesId' | 'zoneId'>

function subjectOf(
  asked: HatchCheckQuestion,
  { ground, eggCases }: { ground: ForecastGround; eggCases: EggCaseRow[] },
): Subject {
  if (asked.eggCase) {
    const eggCase = eggCases.find(({ id }) => id === asked.eggCase)
    if (!eggCase) throw refuseUnknown('egg case')
    const input = hatchInputOf(eggCase, ground)
    const zoneId = asked.zone ?? zoneOfEggCase(eggCase)
    if (!input || !zoneId)
      throw refuseField('eggCase', 'No care profile or no temperature to forecast it from.')
    return { input, eggCase, speciesId: eggCase.speciesId, zoneId }
  }
  const species = [...ground.species.values()].find(
    ({ id, slug }) => id === asked.species || slug === asked.species,
  )
  if (!species?.profile) throw refuseField('species', 'There is no care profile of this species here.')
  const zone = ground.zones.get(asked.zone ?? '')
  const history = zone ? historyOfKnownZone(zone) : []
  if (!asked.zone || history.length === 0)
    throw refuseField('zone', 'No temperature is known there, so nothing can be forecast.')
  const { today, zones } = ground
  if (asked.laidOn && asked.laidOn > today) throw refuseField('laidOn', 'This day is in the future.')
  const laid = asked.laidOn
    ? ({ kind: 'known', on: asked.laidOn } as const)
    : ({ kind: 'received', on: asked.receivedOn ?? today } as const)
  const futureTemperatureSdC = futureSpreadC([{ zoneId: asked.zone, from: today }], zones, today)
  const input = { profile: species.profile, laid, history, today, futureTemperatureSdC }
  return { input, eggCase: null, speciesId: species.id, zoneId: asked.zone }
}

type Places = (speciesId: string, zoneId: string) => HatchPlace | null

/** How each species gets on in each zone, played once. */
function placesOf(
  ground: ForecastGround,
  { labour, span }: { labour: LearnedLabour; span: WeekSpan },
): Places {
  const known = new Map<string, HatchPlace | null>()
  return (speciesId, zoneId) => {
    const key = `${speciesId} ${zoneId}`
    const before = known.get(key)
    if (before !== undefined) return before
    const profile = ground.species.get(speciesId)?.profile
    const zone = ground.zones.get(zoneId)
    const history = zone ? historyOfKnownZone(zone) : []
    const days = 7 * (span.weeks + 4)
    const made =
      profile && history.length > 0
        ? { profile, history, labour, growth: hatchGrowth({ profile, history }, { from: span.from, days }) }
        : null
    known.set(key, made)
    return made
  }
}

type Around = { ground: ForecastGround; places: Places; span: WeekSpan }

function clutchLoad(row: ClutchRow, { ground, places, span }: Around): { load: HatchLoad; chance: number }[] {
  const place = places(row.speciesId, zoneOfClutch(row) ?? '')
  const forecast = forecastClutch(row, ground)
  if (!place || !forecast) return []
  const { living } = place.growth
  const age = Math.min(living.length - 1, Math.max(0, daysBetween(row.hatchedOn, ground.today)))
  const nymphs = row.headCount.together / Math.max(0.05, living[age] ?? 1)
  const dueOn = forecast.dueOn && maxDate(forecast.dueOn, ground.today)
  return [{ load: hatchLoad({ on: row.hatchedOn, nymphs, dueOn }, place, span), chance: 1 }]
}

function eggCaseLoad(
  row: EggCaseRow,
  { ground, places, span }: Around,
): { load: HatchLoad; chance: number }[] {
  const forecast = forecastEggCase(row, ground)
  const place = places(row.speciesId, zoneOfEggCase(row) ?? '')
  if (!place || forecast?.status !== 'forecast' || forecast.p50 > addDays(span.from, 7 * span.weeks))
    return []
  const nymphs = forecast.expectedNymphs.typical
  const load = hatchLoad({ on: forecast.p50, nymphs }, place, span)
  return [{ load, chance: forecast.chanceStillHatches }]
}

/** Single containers of any kind that are free by a day, those on order included once they are here. */
function cupsOf(kinds: readonly ContainerKindRow[]): (on: PlainDate) => number {
  const singles = kinds.filter(({ single }) => single)
  return (on) =>
    singles.reduce((sum, { free, ordered }) => {
      const arrived = ordered.reduce((total, order) => total + (order.on <= on ? order.count : 0), 0)
      return sum + Math.max(0, free) + arrived
    }, 0)
}
