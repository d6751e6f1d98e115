import type { CareProfile } from '../care-profile/profile'
import type { DemandRow, FoodClass, FutureHatch } from '../food-plan/case'
import type { PreyLine } from '../prey/line'
import { forecastRoomSteps, type RoomForecast, type RoomSeries } from '../room-forecast/forecast'
import type { RoomInput } from '../room-forecast/input'
import { type AppetiteSettings, appetiteOf } from './appetite'
import { expectHatchSteps } from './hatch-need'
import { type OtherMouth, otherMouthDemand } from './other-mouth'
import { collectClasses, type StageClasses } from './stage-class'

/** What a room will want to eat. */
export type FoodDemand = {
  classes: FoodClass[]
  demand: DemandRow[]
  /** Egg cases still to hatch, whose days move together. */
  hatches: FutureHatch[]
  /** Stages that no line feeds, named, with the most animals on any day. */
  unfed: { species: string; stage: string; animals: number }[]
}

export type DemandInput = {
  /** The room with its egg cases; its days give the horizon. */
  room: RoomInput
  /** Names of egg cases in the order of `room.eggCases`, for reasons. */
  eggCaseLabels?: readonly string[]
  lines: readonly PreyLine[]
  appetite?: Partial<AppetiteSettings>
  otherMouths?: readonly OtherMouth[]
}

/** Where a thread finds `foodDemandSteps`. */
export const FOOD_DEMAND = { file: 'lib/domain/food-demand/demand.ts', name: 'foodDemandSteps' } as const

/**
 * Animals to feed by class and day, with spread, from the room forecast: animals that stand there as rows of
 * demand, each egg case as a hatch of its own, other mouths as what they repeat.
 */
export function foodDemand(input: DemandInput): FoodDemand {
  const steps = foodDemandSteps(input)
  let step = steps.next()
  while (!step.done) step = steps.next()
  return step.value
}

/** The same, part by part, so that whoever waits for it can do something else in between. */
export function* foodDemandSteps(input: DemandInput): Generator<undefined, FoodDemand, undefined> {
  const { room, lines } = input
  const collected = collectClasses()
  const standing = yield* forecastRoomSteps({ ...room, eggCases: [] })
  const { demand, unfed } = standingDemand(input, standing, collected)
  yield
  const hatches = yield* expectHatchSteps(input, collected)
  const others = otherMouthDemand(input.otherMouths ?? [], { from: room.today, days: room.days, lines })
  return {
    classes: [...collected.classes, ...others.classes],
    demand: [...demand, ...others.demand],
    hatches,
    unfed,
  }
}

function standingDemand(input: DemandInput, forecast: RoomForecast, collected: StageClasses) {
  const rows = new Map<string, { mean: Float64Array; bySpecies: Map<string, Float64Array> }>()
  const unfed = new Map<string, FoodDemand['unfed'][number]>()
  for (const series of forecast.series) {
    const most = Math.max(0, ...series.mean)
    const profile = profileOf(input, series.speciesId)
    if (most < 0.01 || !profile) continue
    const id = classOfSeries(input, { series, profile }, collected)
    if (id === null) {
      const stage = series.moults === null ? 'adults' : `nymphs after ${series.moults} moults`
      const key = `${series.speciesId}/${stage}`
      unfed.set(key, {
        species: series.speciesId,
        stage,
        animals: Math.max(most, unfed.get(key)?.animals ?? 0),
      })
      continue
    }
    addSeries(rows, id, series)
  }
  const demand = [...rows].flatMap(([id, { mean, bySpecies }]) =>
    forecast.days.flatMap((on, day): DemandRow[] => {
      const variance = [...bySpecies.values()].reduce((sum, sds) => sum + sds[day]! ** 2, 0)
      return mean[day]! < 0.005 ? [] : [{ class: id, on, animals: mean[day]!, sd: Math.sqrt(variance) }]
    }),
  )
  return { demand, unfed: [...unfed.values()] }
}

/** Stages of one species go up and down together, species each on its own. */
function addSeries(
  rows: Map<string, { mean: Float64Array; bySpecies: Map<string, Float64Array> }>,
  id: string,
  { speciesId, mean, variance }: RoomSeries,
): void {
  const row = rows.get(id) ?? { mean: new Float64Array(mean.length), bySpecies: new Map() }
  rows.set(id, row)
  const sds = row.bySpecies.get(speciesId) ?? new Float64Array(mean.length)
  row.bySpecies.set(speciesId, sds)
  mean.forEach((animals, day) => {
    row.mean[day]! += animals
    sds[day]! += Math.sqrt(Math.max(0, variance[day]!))
  })
}

function classOfSeries(
  input: DemandInput,
  { series, profile }: { series: RoomSeries; profile: CareProfile },
  collected: StageClasses,
): string | null {
  const animal = { sex: series.sex, moults: series.moults ?? 0, isAdult: series.moults === null }
  return collected.classOf(appetiteOf(profile, animal, { lines: input.lines, settings: input.appetite }))
}

function profileOf({ room }: DemandInput, speciesId: string): CareProfile | undefined {
  return room.species.find(({ id }) => id === speciesId)?.profile
}
