import { addDays, daysBetween, maxDate, minDate, type PlainDate } from '../calendar/date'
import type { GivenWindow } from './given'

/**
 * What came of a window. `came` is the span in which the event was noticed, one day where it was seen. A window is
 * judged only once it is over: before that the early ones alone would be known, and every forecast would look late.
 */
export type Outcome = {
  came: { earliestOn: PlainDate; latestOn: PlainDate } | null
  /** The last day on which it was seen without the event. */
  seenWithoutOn: PlainDate | null
  /** Sold, dead, ended, …: after this nothing could be seen any more. */
  leftOn: PlainDate | null
}

/** Parts that sum to 1: how much of the span in which it came lies before, in and after the window. */
export type Shares = { early: number; held: number; late: number }

/**
 * `open`: not over yet. `left`: it left before anybody could say. `unseen`: over, but nobody has looked since.
 * A late one may still be running: seen after the window, without the event.
 */
export type Verdict =
  | ({ status: 'judged'; isStillRunning: boolean; spanDays: number } & Shares)
  | { status: 'open' | 'left' | 'unseen' }

export function judgeWindow(window: GivenWindow, outcome: Outcome, asOf: PlainDate): Verdict {
  const { came, seenWithoutOn, leftOn } = outcome
  if (window.p90 >= asOf) return { status: 'open' }
  if (came) return { status: 'judged', isStillRunning: false, ...sharesOf(window, came) }
  if (seenWithoutOn !== null && seenWithoutOn > window.p90)
    return { status: 'judged', isStillRunning: leftOn === null, spanDays: 1, early: 0, held: 0, late: 1 }
  return { status: leftOn === null ? 'unseen' : 'left' }
}

/** All days of the span equally likely; it cannot have come before the window was given. */
function sharesOf(
  { givenOn, p10, p90 }: GivenWindow,
  came: { earliestOn: PlainDate; latestOn: PlainDate },
): Shares & { spanDays: number } {
  const from = minDate(maxDate(came.earliestOn, givenOn), came.latestOn)
  const spanDays = daysBetween(from, came.latestOn) + 1
  const daysWithin = (first: PlainDate, last: PlainDate) => {
    const [start, end] = [maxDate(first, from), minDate(last, came.latestOn)]
    return start > end ? 0 : daysBetween(start, end) + 1
  }
  const early = daysWithin(from, addDays(p10, -1)) / spanDays
  const late = daysWithin(addDays(p90, 1), came.latestOn) / spanDays
  return { spanDays, early, late, held: daysWithin(p10, p90) / spanDays }
}

/** A window with what came of it. `familyId` names siblings, who are quick or slow together. */
export type JudgedWindow = {
  window: GivenWindow
  verdict: Verdict
  familyId: string
  /** Completed instars in this workspace that it rested on. */
  instarsSeen: number
}

/** How often windows held, against how often they said they would. Counts may be broken: see `Shares`. */
export type Coverage = Shares & {
  judged: number
  /** Windows that should have held by their own chances, and how far chance alone (siblings together) may stray. */
  said: number
  saidSd: number
  /** Noticed over more than one day, so counted in parts. */
  inParts: number
  /** Late ones without the event to this day. */
  stillRunning: number
  open: number
  left: number
  unseen: number
  /** Of those judged, first and last day counted in; null where there is none. */
  medianWindowDays: number | null
}

export function coverageOf(all: readonly JudgedWindow[]): Coverage {
  const coverage: Coverage = {
    judged: 0,
    early: 0,
    held: 0,
    late: 0,
    said: 0,
    saidSd: 0,
    inParts: 0,
    stillRunning: 0,
    open: 0,
    left: 0,
    unseen: 0,
    medianWindowDays: null,
  }
  const lengths: number[] = []
  for (const { window, verdict } of all) {
    if (verdict.status !== 'judged') {
      coverage[verdict.status] += 1
      continue
    }
    coverage.judged += 1
    coverage.early += verdict.early
    coverage.held += verdict.held
    coverage.late += verdict.late
    coverage.said += window.chanceInside
    coverage.inParts += verdict.spanDays > 1 ? 1 : 0
    coverage.stillRunning += verdict.isStillRunning ? 1 : 0
    lengths.push(daysBetween(window.p10, window.p90) + 1)
  }
  lengths.sort((a, b) => a - b)
  return { ...coverage, saidSd: saidSd(all), medianWindowDays: lengths[lengths.length >> 1] ?? null }
}

/**
 * The larger of what independent windows would give and of what whole clutches did: where siblings were all early
 * or all late together, fewer things were tried than there are windows.
 */
function saidSd(all: readonly JudgedWindow[]): number {
  let [independent, surplus, count] = [0, 0, 0]
  const families = new Map<string, { surplus: number; count: number }>()
  for (const { window, verdict, familyId } of all) {
    if (verdict.status !== 'judged') continue
    independent += window.chanceInside * (1 - window.chanceInside)
    const own = families.get(familyId) ?? { surplus: 0, count: 0 }
    own.surplus += verdict.held - window.chanceInside
    own.count += 1
    families.set(familyId, own)
    surplus += verdict.held - window.chanceInside
    count += 1
  }
  if (families.size < 2) return Math.sqrt(independent)
  let together = 0
  // About their own mean: windows that are all too narrow are no reason to excuse them.
  for (const own of families.values()) together += (own.surplus - (own.count * surplus) / count) ** 2
  return Math.sqrt(Math.max(independent, together))
}
