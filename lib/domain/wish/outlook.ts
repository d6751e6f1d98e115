import { normalAbove } from '../probability/normal'
import type { RoomForecast } from '../room-forecast/forecast'

/** What somebody waits for. */
export type WishFor = {
  speciesId: string
  sex: 'male' | 'female' | 'unsexed' | null
  /** moults since hatch; null for any stage, or for adults where `adult` */
  moults: number | null
  adult: boolean
  count: number
}
export type WishOutlook = {
  status: 'likely' | 'possible' | 'unlikely'
  /** chance that so many are there on the day, all earlier wishes served first */
  chance: number
  expected: number
}

const LIKELY = 0.8
const POSSIBLE = 0.3

/**
 * Whether a wish can be met on a day, from the room forecast: the animals of its kind that are expected then, less those
 * promised before, as a normal number with the forecast's variance. Unsexed animals count for neither sex, so that
 * nothing is promised that nobody has seen. O(series).
 */
export function wishOutlook(
  wish: WishFor,
  forecast: Pick<RoomForecast, 'series'>,
  at: { day: number; promised: number },
): WishOutlook {
  const fitting = forecast.series.filter(
    ({ speciesId, sex, moults }) =>
      speciesId === wish.speciesId &&
      (wish.sex === null || wish.sex === sex) &&
      (wish.adult ? moults === null : wish.moults === null || wish.moults === moults),
  )
  const sum = (field: 'mean' | 'variance') =>
    fitting.reduce((total, series) => total + (series[field][at.day] ?? 0), 0)
  const expected = Math.max(0, sum('mean') - at.promised)
  const sd = Math.sqrt(sum('variance'))
  const needed = wish.count - 0.5
  const chance = sd < 1e-9 ? Number(expected >= needed) : normalAbove((needed - expected) / sd)
  const status = chance >= LIKELY ? 'likely' : chance >= POSSIBLE ? 'possible' : 'unlikely'
  return { status, chance, expected }
}
