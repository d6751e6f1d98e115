import { addDays } from '../calendar/date'
import type { FutureHatch } from '../food-plan/case'
import { hatchChances } from '../hatch/forecast'
import { forecastRoom } from '../room-forecast/forecast'
import type { RoomEggCase, RoomSpecies, RoomZone } from '../room-forecast/input'
import { appetiteOf } from './appetite'
import type { DemandInput } from './demand'
import type { StageClasses } from './stage-class'

/** The need of one hatchling is looked at every third day of its age. */
const AGE_STEP = 3
const SMALLEST_NEED = 0.01
/** Of a group that stands for one hatchling, so that its spread is that of many. */
const HATCHLINGS = 200

/** Every egg case that may hatch within the horizon, with what its nymphs will need from each age on, one by one. */
export function* expectHatchSteps(
  input: DemandInput,
  collected: StageClasses,
): Generator<undefined, FutureHatch[], undefined> {
  const { room } = input
  const needs = new Map<string, FutureHatch['needsByAgeDays']>()
  const hatches: FutureHatch[] = []
  for (const [index, eggCase] of room.eggCases.entries()) {
    yield
    const species = room.species.find(({ id }) => id === eggCase.speciesId)
    const zone = room.zones.find(({ id }) => id === eggCase.zoneId)
    const days = species && zone ? hatchDays(input, eggCase, { species, zone }) : null
    if (!species || !zone || !days) continue
    const key = `${species.id}/${zone.id}`
    const needsByAgeDays = needs.get(key) ?? needByAge(input, { species, zone }, collected)
    needs.set(key, needsByAgeDays)
    const { mean, variance } = eggCase.nymphs
    hatches.push({
      id: input.eggCaseLabels?.[index] ?? `egg case ${index + 1}`,
      ...days,
      count: mean,
      cv: mean > 0 ? Math.sqrt(variance) / mean : 0,
      needsByAgeDays,
    })
  }
  return hatches
}

type Place = { species: RoomSpecies; zone: RoomZone }

/** Mean and spread of the day, if it hatches within the horizon, and the chance of that. */
function hatchDays({ room }: DemandInput, { hatch, ...eggCase }: RoomEggCase, { species, zone }: Place) {
  const { profile } = species
  const { futureTemperatureSdC } = zone
  const history = eggCase.history ?? zone.history
  const chances = hatchChances({ ...hatch, today: room.today, profile, history, futureTemperatureSdC })
  if (!chances) return null
  const within = chances.withinDays(room.days)
  if (chances.stillHatches * within < SMALLEST_NEED) return null
  let [mean, square, before] = [0, 0, 0]
  for (let day = 1; day <= room.days; day += 1) {
    const share = (chances.withinDays(day) - before) / within
    before += share * within
    mean += share * (day - 0.5)
    square += share * (day - 0.5) ** 2
  }
  const on = addDays(room.today, Math.round(mean))
  return { on, sdDays: Math.sqrt(Math.max(0, square - mean ** 2)), chance: chances.stillHatches * within }
}

/** Animals per hatchling and class by age: a group that hatches today is played through the room forecast. */
function needByAge(
  { room, lines, appetite }: DemandInput,
  { species, zone }: Place,
  collected: StageClasses,
): FutureHatch['needsByAgeDays'] {
  const group = { speciesId: species.id, zoneId: zone.id, clutchId: null }
  const nothing = { animals: [], eggCases: [], sales: [] }
  const groups = [{ ...group, count: HATCHLINGS, ageEffectiveDays: 0 }]
  const { series } = forecastRoom({ ...room, ...nothing, groups })
  const byClass = new Map<string, Float64Array>()
  for (const one of series) {
    const animal = { sex: one.sex, moults: one.moults ?? 0, isAdult: one.moults === null }
    const id = collected.classOf(appetiteOf(species.profile, animal, { lines, settings: appetite }))
    if (id === null) continue
    const row = byClass.get(id) ?? new Float64Array(room.days)
    byClass.set(id, row)
    one.mean.forEach((animals, day) => {
      row[day]! += animals / HATCHLINGS
    })
  }
  return [...byClass].flatMap(([id, row]) => stepsOf(id, row))
}

function stepsOf(id: string, row: Float64Array): FutureHatch['needsByAgeDays'] {
  let last = 0
  const steps = Array.from({ length: Math.ceil(row.length / AGE_STEP) }, (_, step) => {
    const days = row.subarray(step * AGE_STEP, (step + 1) * AGE_STEP)
    const mean = days.reduce((sum, animals) => sum + animals, 0) / days.length
    return { class: id, fromDay: step * AGE_STEP, animals: mean < SMALLEST_NEED ? 0 : mean }
  })
  const told = steps.filter(({ animals }) => {
    const isNew = animals > 0 || last > 0
    last = animals
    return isNew
  })
  // A class that comes once only would be read as ended by the next of any class.
  return told.length === 1 ? [...told, { class: id, fromDay: row.length, animals: 0 }] : told
}
