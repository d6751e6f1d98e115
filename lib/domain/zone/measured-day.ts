import type { PlainDate } from '../calendar/date'

/**
 * A day of readings, small enough that a year of them loads at once. Of every hour only the mean is kept; of a day
 * without a gap the means of its coldest quarter, its warmest and the two between. A rate that is straight between
 * its thresholds is exact over them wherever no threshold falls inside a quarter, and near it there.
 */
export type MeasuredDay = {
  on: PlainDate
  /** Mean of each hour of the local day, 24 of them; null where nothing was read. Empty where `partsC` says it all. */
  hoursC: readonly (number | null)[]
  /** Means of the four quarters of the day by warmth, where it has no gap. */
  partsC: readonly number[]
}

export type DaySummary = { meanC: number; minC: number; maxC: number; partsC: number[] }

const HOURS = 24
/** A gap of more hours than these says nothing; the zone's set temperature stands in. A default. */
export const LONGEST_GAP_HOURS = 3
const PARTS = 4

/**
 * What is kept of a day. `minC` and `maxC` are those of the readings, which the hourly means do not know.
 * @throws RangeError for a day without a reading
 */
export function summariseDay(
  hoursC: readonly (number | null)[],
  extremes: { minC: number; maxC: number },
): DaySummary {
  const known = hoursC.filter((hourC) => hourC !== null)
  if (known.length === 0) throw new RangeError('a measured day has at least one reading')
  const bridged = bridgeGaps(hoursC)
  const isWhole = bridged.every((hourC) => hourC !== null)
  return {
    meanC: mean(isWhole ? bridged.filter((hourC) => hourC !== null) : known),
    ...extremes,
    partsC: isWhole ? partsOf(bridged.filter((hourC) => hourC !== null)) : [],
  }
}

/** The hours of a day with short gaps bridged in a straight line; at its ends the nearest hour goes on. */
export function bridgeGaps(hoursC: readonly (number | null)[]): (number | null)[] {
  const bridged = Array.from({ length: HOURS }, (_, hour) => hoursC[hour] ?? null)
  for (let hour = 0; hour < HOURS; hour += 1) {
    if (bridged[hour] !== null) continue
    const next = hoursC.findIndex((hourC, index) => index > hour && hourC !== null)
    const end = next === -1 ? HOURS : next
    if (end - hour <= LONGEST_GAP_HOURS) fill(bridged, hour, end)
    hour = end
  }
  return bridged
}

function fill(hoursC: (number | null)[], from: number, end: number): void {
  const before = hoursC[from - 1] ?? null
  const after = hoursC[end] ?? null
  for (let hour = from; hour < end; hour += 1) {
    const share = (hour - from + 1) / (end - from + 1)
    hoursC[hour] =
      before !== null && after !== null ? before + share * (after - before) : (before ?? after ?? null)
  }
}

/** The means of the coldest quarter of the hours, the next two and the warmest. */
function partsOf(hoursC: readonly number[]): number[] {
  const sorted = [...hoursC].sort((a, b) => a - b)
  const size = sorted.length / PARTS
  return Array.from({ length: PARTS }, (_, part) => mean(sorted.slice(part * size, (part + 1) * size)))
}

/** Hours from 8 to 20 take the day temperature, the others that of the night: half and half, as the clock counts. */
const DAY_HOURS = { from: 8, until: 20 }

/** A measured day as equally long parts of it, its gaps at what the zone was set to. */
export function temperaturesOfDay(
  day: MeasuredDay,
  set: { dayC: number; nightC: number | null } | undefined,
): readonly number[] {
  if (day.partsC.length > 0) return day.partsC
  const bridged = bridgeGaps(day.hoursC)
  if (!set) return bridged.filter((hourC) => hourC !== null)
  return bridged.map((hourC, hour) => {
    const isByDay = hour >= DAY_HOURS.from && hour < DAY_HOURS.until
    return hourC ?? (isByDay ? set.dayC : (set.nightC ?? set.dayC))
  })
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
