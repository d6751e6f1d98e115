import type { Sex } from '../care-profile/body-length'
import type { Occupancy } from './course-play'
import { type EggPart, playEggs } from './egg-case'
import type { RoomPart } from './part'
import { type PartGrid, playPart, ROWS } from './part-play'

/** A part by day: per guess and row (stages, then all of them) the expected number, and the variance single animals add. */
export type DailyPart = {
  signature: string
  speciesId: string
  sex: Sex
  /** One after the other: guess, row, day. */
  means: Float64Array
  ownVariance: Float64Array
}

export type PlaceTime = PartGrid & { stepOf: (days: number) => number; stepOfDay: number[] }

export function dailyPart(part: RoomPart, time: PlaceTime): Omit<DailyPart, 'signature'> {
  const { means, ownVariance, now } = playPart(part, time)
  return { ...daily(means, ownVariance, { now, time }), speciesId: part.species.id, sex: part.sex }
}

export function dailyEggs(part: EggPart, time: PlaceTime): Omit<DailyPart, 'signature'> {
  const { means, ownVariance } = playEggs(part, time)
  const now = new Float64Array(ROWS)
  return { ...daily(means, ownVariance, { now, time }), speciesId: part.species.id, sex: 'unsexed' }
}

function daily(
  means: readonly Occupancy[],
  ownVariance: Occupancy,
  { now, time }: { now: Float64Array; time: PlaceTime },
): { means: Float64Array; ownVariance: Float64Array } {
  const days = time.stepOfDay.length
  const flat = new Float64Array(means.length * ROWS * days)
  means.forEach((stages, guess) => {
    stages.forEach((stage, index) => {
      readDays(stage, { now: now[index]!, time }, flat.subarray((guess * ROWS + index) * days))
    })
  })
  const variance = new Float64Array(ROWS * days)
  ownVariance.forEach((stage, index) => {
    readDays(stage, { now: 0, time }, variance.subarray(index * days))
  })
  return { means: flat, ownVariance: variance }
}

/** Between steps evenly; a step's value is that of half a step later, before the first stands what is seen now. */
function readDays(
  stage: Float64Array,
  { now, time }: { now: number; time: PlaceTime },
  into: Float64Array,
): void {
  time.stepOfDay.forEach((step, day) => {
    const at = step - 0.5
    const low = Math.floor(at)
    const from = low < 0 ? now : stage[low]!
    const until = stage[Math.min(stage.length - 1, low + 1)]!
    const share = low < 0 ? step / 0.5 : at - low
    into[day] = from + (until - from) * share
  })
}
