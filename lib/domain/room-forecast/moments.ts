import type { Sex } from '../care-profile/body-length'
import type { DailyPart } from './daily'
import type { RoomSeries } from './forecast'
import { GUESSES } from './guess'
import { ADULT, ALL, ROWS, STAGES } from './part-play'

/** Expected number and variance on each day. */
export type Moments = { mean: number[]; variance: number[] }
export type RoomParts = ReadonlyMap<string, DailyPart>

type Sums = { means: Float64Array; own: Float64Array }

/** Every stage of every species and sex: guesses move all parts of a species together. */
export function seriesOf(parts: RoomParts, days: number): RoomSeries[] {
  const sums = sumBy(parts, ({ speciesId, sex }) => `${speciesId}|${sex}`)
  return [...sums].flatMap(([key, sum]) =>
    Array.from({ length: STAGES }, (_, stage) => ({
      ...readKey(key),
      moults: stage === ADULT ? null : stage,
      ...momentsOf(sum, [stage], days),
    })).filter(({ mean }) => mean.some((count) => count > 1e-6)),
  )
}

/** All living animals of a species, whatever their stage and sex. */
export function totalsOf(parts: RoomParts, days: number): ({ speciesId: string } & Moments)[] {
  return [...sumBy(parts, ({ speciesId }) => speciesId)].map(([speciesId, sum]) => ({
    speciesId,
    ...momentsOf(sum, [ALL], days),
  }))
}

/**
 * Animals of a species in any of some stages (null: adults). What moves all of them is taken together; what single
 * animals add is summed over the stages, a little too much for those that only change from one of them to the next.
 */
export function stagesOf(
  parts: RoomParts,
  of: { speciesId: string; stages: readonly (number | null)[]; days: number },
): Moments {
  const sum = [...sumBy(parts, ({ speciesId }) => speciesId)].find(([id]) => id === of.speciesId)?.[1]
  const none = () => Array.from({ length: of.days }, () => 0)
  if (!sum) return { mean: none(), variance: none() }
  return momentsOf(
    sum,
    of.stages.map((moults) => moults ?? ADULT),
    of.days,
  )
}

function readKey(key: string): { speciesId: string; sex: Sex } {
  const [speciesId, sex] = key.split('|')
  return { speciesId: speciesId!, sex: sex as Sex }
}

function sumBy(parts: RoomParts, keyOf: (part: DailyPart) => string): Map<string, Sums> {
  const sums = new Map<string, Sums>()
  for (const [, part] of [...parts].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const key = keyOf(part)
    const sum = sums.get(key) ?? {
      means: new Float64Array(part.means.length),
      own: new Float64Array(part.ownVariance.length),
    }
    sums.set(key, sum)
    for (let cell = 0; cell < sum.means.length; cell += 1) sum.means[cell]! += part.means[cell]!
    for (let cell = 0; cell < sum.own.length; cell += 1) sum.own[cell]! += part.ownVariance[cell]!
  }
  return sums
}

function momentsOf(sum: Sums, rows: readonly number[], days: number): Moments {
  const mean: number[] = []
  const variance: number[] = []
  for (let day = 0; day < days; day += 1) {
    let [first, second, own] = [0, 0, 0]
    GUESSES.forEach(({ weight }, guess) => {
      const count = rows.reduce((total, row) => total + sum.means[(guess * ROWS + row) * days + day]!, 0)
      first += weight * count
      second += weight * count * count
    })
    for (const row of rows) own += sum.own[row * days + day]!
    mean.push(first)
    variance.push(Math.max(0, second - first * first) + own)
  }
  return { mean, variance }
}
