import { addDays, type PlainDate } from '../calendar/date'
import { FUTURE_TEMPERATURE_SD_C } from '../development/parameters'
import type { KnownZone, ZoneSetPoint } from './history'
import { type MeasuredDay, temperaturesOfDay } from './measured-day'

const BLOCK_DAYS = 14
/** A fortnight with fewer measured days says nothing. */
const FEWEST_DAYS = 5
const MOST_BLOCKS = 26
const LEAST_SD_C = 0.3
const MOST_SD_C = 4
/** The default counts as so many fortnights. */
const PRIOR_BLOCKS = 3

/**
 * How far a zone will stray over a fortnight from what it is set to: the root mean square of how far its measured
 * fortnights did, leaning on the default while there are few. Its own habit of being warmer than its dial says
 * counts in, since the future is forecast at what it is set to. O(days).
 */
export function zoneTemperatureSpreadC(zone: KnownZone, today: PlainDate): number {
  const strayed = listBlocks(zone, today)
  if (strayed.length === 0) return FUTURE_TEMPERATURE_SD_C
  const squares = strayed.reduce((sum, byC) => sum + byC ** 2, 0)
  const variance = (squares + PRIOR_BLOCKS * FUTURE_TEMPERATURE_SD_C ** 2) / (strayed.length + PRIOR_BLOCKS)
  return Math.min(MOST_SD_C, Math.max(LEAST_SD_C, Math.sqrt(variance)))
}

/** Mean of measured minus set, °C, over each fortnight back from today. */
function listBlocks(zone: KnownZone, today: PlainDate): number[] {
  const blocks: number[] = []
  let later = [...(zone.days ?? [])].filter(({ on }) => on < today)
  for (let block = 0; block < MOST_BLOCKS && later.length > 0; block += 1) {
    const from = addDays(today, -(block + 1) * BLOCK_DAYS)
    const inside = later.filter(({ on }) => on >= from)
    later = later.filter(({ on }) => on < from)
    if (inside.length >= FEWEST_DAYS) blocks.push(meanStray(inside, zone.setPoints))
  }
  return blocks
}

function meanStray(days: readonly MeasuredDay[], setPoints: readonly ZoneSetPoint[]): number {
  const sum = days.reduce((total, day) => {
    const set = setPoints.findLast(({ from }) => from <= day.on) ?? setPoints[0]
    const partsC = temperaturesOfDay(day, set)
    const measuredC = partsC.reduce((parts, partC) => parts + partC, 0) / partsC.length
    return total + (set ? measuredC - (set.dayC + (set.nightC ?? set.dayC)) / 2 : 0)
  }, 0)
  return sum / days.length
}

/** The spread ahead for what stands somewhere: that of its last zone. */
export function futureSpreadC(
  stays: readonly { zoneId: string; from: PlainDate }[],
  zones: ReadonlyMap<string, KnownZone>,
  today: PlainDate,
): number {
  const last = [...stays].sort((a, b) => (a.from < b.from ? -1 : 1)).at(-1)
  const zone = last && zones.get(last.zoneId)
  return zone ? spreadOfKnownZone(zone, today) : FUTURE_TEMPERATURE_SD_C
}

// Asked for every animal that stands there.
const known = new WeakMap<KnownZone, { today: PlainDate; spreadC: number }>()

function spreadOfKnownZone(zone: KnownZone, today: PlainDate): number {
  const before = known.get(zone)
  if (before?.today === today) return before.spreadC
  const spreadC = zoneTemperatureSpreadC(zone, today)
  known.set(zone, { today, spreadC })
  return spreadC
}
