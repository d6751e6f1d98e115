import { listCrossings, type Measured, MINUTE_MS, type WatchLimits } from './crossing'
import type { IncidentKind } from './incident'

/** How often somebody is called until it is taken, minutes: too hot kills within hours, so it is the more urgent. */
const REPEAT_MINUTES: Record<IncidentKind, number> = { too_hot: 10, too_cold: 20, silent: 30 }
/** Once it is over by itself it still has to be looked at, but not by night. */
const REPEAT_OVER_MINUTES = 360
/** A while after its end nobody is called any more; it stays in the list. */
const CALLED_FOR_HOURS = 48
/** A zone is looked at so often even where nothing is due. */
const LOOK_AT_LEAST_MINUTES = 15

type Calling = { kind: IncidentKind; endedMs: number | null }

/** When the next call is due after one now; null where it is long over. */
export function nextCallMs({ kind, endedMs }: Calling, nowMs: number): number | null {
  if (endedMs === null) return nowMs + REPEAT_MINUTES[kind] * MINUTE_MS
  const next = nowMs + REPEAT_OVER_MINUTES * MINUTE_MS
  return next <= endedMs + CALLED_FOR_HOURS * 60 * MINUTE_MS ? next : null
}

/** Whether an incident that has just come on record calls anybody: not one that was over long before. */
export function isCalled({ endedMs }: Calling, nowMs: number): boolean {
  return endedMs === null || nowMs - endedMs <= CALLED_FOR_HOURS * 60 * MINUTE_MS
}

export type LookInput = {
  readings: readonly Measured[]
  lastMs: number | null
  limits: WatchLimits
  /** When the incidents that nobody has taken call next. */
  callsDueMs: readonly number[]
  nowMs: number
}

/** When a watched zone has to be looked at again if no reading comes before. */
export function nextLookMs({ readings, lastMs, limits, callsDueMs, nowMs }: LookInput): number {
  const { silenceMinutes, delayMinutes, sinceMs } = limits
  const silentAt =
    silenceMinutes === null ? [] : [Math.max(lastMs ?? sinceMs, sinceMs) + silenceMinutes * MINUTE_MS]
  // What has been outside for less than the delay: it counts from the end of the delay on.
  const pending = listCrossings(readings, { ...limits, delayMinutes: 0 }, nowMs)
    .filter(({ endedMs }) => endedMs === null)
    .map(({ beganMs }) => beganMs + delayMinutes * MINUTE_MS)
  const coming = [...silentAt, ...pending, ...callsDueMs].filter((atMs) => atMs > nowMs)
  return Math.min(nowMs + LOOK_AT_LEAST_MINUTES * MINUTE_MS, ...coming)
}
