import type { IncidentKind } from './incident'

/** What a thermometer said, °C, at an instant in milliseconds since 1970. */
export type Measured = { atMs: number; temperatureC: number }

/** Limits of a zone that is watched; what is null is not watched for. */
export type WatchLimits = {
  lowC: number | null
  highC: number | null
  /** How long it has to be outside, or inside again, before that counts. */
  delayMinutes: number
  silenceMinutes: number | null
  /** Readings from then on count. */
  sinceMs: number
}

/** A time outside of a limit. `endedMs` null: as far as is known it still is. */
export type Crossing = {
  kind: Exclude<IncidentKind, 'silent'>
  beganMs: number
  /** The first reading inside again. */
  endedMs: number | null
  /** The reading furthest outside. */
  extremeC: number
  limitC: number
}

export const MINUTE_MS = 60_000

/**
 * The times outside of the limits that lasted for at least the delay, in whatever order the readings came. Two of
 * them with less than the delay between are one. The last reading holds until the next one, or until now. O(n log n).
 */
export function listCrossings(readings: readonly Measured[], limits: WatchLimits, nowMs: number): Crossing[] {
  const sorted = readings.filter(({ atMs }) => atMs >= limits.sinceMs).sort((a, b) => a.atMs - b.atMs)
  const { lowC, highC, delayMinutes } = limits
  const sides: Side[] = [
    ...(highC === null ? [] : [{ kind: 'too_hot' as const, limitC: highC, sign: 1 }]),
    ...(lowC === null ? [] : [{ kind: 'too_cold' as const, limitC: lowC, sign: -1 }]),
  ]
  return sides.flatMap((side) => crossingsOf(sorted, side, { delayMs: delayMinutes * MINUTE_MS, nowMs }))
}

/** `sign` 1: above the limit is outside; −1: below it is. */
type Side = { kind: Crossing['kind']; limitC: number; sign: number }

function crossingsOf(
  sorted: readonly Measured[],
  side: Side,
  { delayMs, nowMs }: { delayMs: number; nowMs: number },
): Crossing[] {
  const found: Crossing[] = []
  for (const reading of sorted) {
    const open = found.at(-1)
    const isOutside = side.sign * (reading.temperatureC - side.limitC) > 0
    if (!isOutside) {
      if (open && open.endedMs === null) open.endedMs = reading.atMs
    } else if (open && (open.endedMs === null || reading.atMs - open.endedMs < delayMs)) {
      open.endedMs = null
      open.extremeC = furtherOut(open.extremeC, reading.temperatureC, side.sign)
    } else found.push(beginCrossing(reading, side))
  }
  return found.filter(({ beganMs, endedMs }) => (endedMs ?? Math.max(nowMs, beganMs)) - beganMs >= delayMs)
}

function beginCrossing({ atMs, temperatureC }: Measured, { kind, limitC }: Side): Crossing {
  return { kind, beganMs: atMs, endedMs: null, extremeC: temperatureC, limitC }
}

function furtherOut(oneC: number, otherC: number, sign: number): number {
  return sign > 0 ? Math.max(oneC, otherC) : Math.min(oneC, otherC)
}

/** The later of two extremes of one kind. */
export function extremeOf(kind: Crossing['kind'], oneC: number, otherC: number): number {
  return furtherOut(oneC, otherC, kind === 'too_hot' ? 1 : -1)
}

/** Since when nothing was read, where that is longer than it may be; null where somebody reads, or nobody asks. */
export function silentSince(
  lastMs: number | null,
  { silenceMinutes, sinceMs }: WatchLimits,
  nowMs: number,
): number | null {
  if (silenceMinutes === null) return null
  const beganMs = Math.max(lastMs ?? sinceMs, sinceMs)
  return nowMs - beganMs >= silenceMinutes * MINUTE_MS ? beganMs : null
}
