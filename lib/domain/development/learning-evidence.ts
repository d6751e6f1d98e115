import { dayNumber } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import {
  type DevelopmentClock,
  developmentClock,
  effectiveDaysAt,
  type TemperatureHistory,
  type Thresholds,
} from './clock'
import { type DevelopmentCourse, medianInstarDays, openCourses } from './instar-length'
import type { DevelopmentRecord } from './record'

/**
 * Records on the scale of the clock. A mark is the start of an instar, somewhere within `width` effective
 * days around `middle`; `runningAt` is the last look at the running instar (midday of that day).
 */
export type Mark = {
  moults: number
  middle: number
  width: number
  /** Confirmed by a person: it is where it says. */
  isSure: boolean
}

/** ln of the median length by instar on courses that agree on all instars this animal has begun. */
export type CourseGroup = { weight: number; logMedians: number[] }

/**
 * From one mark to a later one, or to the last look at the running instar (`end` is then one past the last
 * mark): the instars `from` up to `until` together lasted as long as the limits say (ln of effective days).
 * `startVariance` is what the width of the starting mark adds to the variance of that logarithm.
 */
export type Step = {
  start: number
  end: number
  from: number
  until: number
  limits: { low: number; high: number }
  startVariance: number
  /** ln of the length between the middles of both marks; null where it is only a bound or spans more instars. */
  logLength: number | null
}

export type AnimalEvidence = {
  /** Animals of one clutch that cannot be told apart by their records are one piece of evidence. */
  ids: string[]
  clutch: string
  count: number
  marks: Mark[]
  steps: Step[]
  isRunning: boolean
  groups: CourseGroup[]
}

const LONGEST_STEP = 3
const SHORTEST_WIDTH = 0.02

/** What does not hang on the thresholds, worked out once: days as numbers, courses still open. */
export type ReadyRecord = {
  animalId: string
  clutch: string
  count: number
  starts: { moults: number; fromDay: number; untilDay: number; isSure: boolean }[]
  /** Midday of the last look at the running instar. */
  runningDay: number | null
  groups: CourseGroup[]
  history: TemperatureHistory
}

/** In an order of its own (clutch, then animal), so that the order of rows changes nothing, not even rounding. */
export function readyRecords(records: readonly DevelopmentRecord[], profile: CareProfile): ReadyRecord[] {
  const groupsOf = groupsByStage(profile)
  return records
    .filter(({ starts, runningOn, history }) => history.length > 0 && starts.length + (runningOn ? 1 : 0) > 1)
    .map((record) => ({
      animalId: record.animalId,
      // An animal of unknown clutch is a clutch of one.
      clutch: record.clutchId ?? `alone ${record.animalId}`,
      count: record.count ?? 1,
      starts: record.starts.map(({ moults, earliestOn, latestOn, isConfirmed = false }) => ({
        moults,
        isSure: isConfirmed,
        fromDay: dayNumber(earliestOn),
        untilDay: dayNumber(latestOn) + 1,
      })),
      runningDay: record.runningOn === null ? null : dayNumber(record.runningOn) + 0.5,
      groups: groupsOf(record),
      history: record.history,
    }))
    .sort((a, b) => compareText(a.clutch, b.clutch) || compareText(a.animalId, b.animalId))
}

export function evidenceOf(records: readonly ReadyRecord[], thresholds: Thresholds): AnimalEvidence[] {
  const clocks = new Map<TemperatureHistory, DevelopmentClock>()
  const clockOf = (history: TemperatureHistory) => {
    const known = clocks.get(history)
    if (known) return known
    const made = developmentClock(history, thresholds)
    clocks.set(history, made)
    return made
  }
  return alikeTogether(records.map((record) => animalEvidence(record, clockOf(record.history))))
}

function alikeTogether(animals: readonly AnimalEvidence[]): AnimalEvidence[] {
  const byLook = new Map<string, AnimalEvidence>()
  for (const animal of animals) {
    const marks = animal.marks
      .map(({ moults, middle, width, isSure }) => `${moults} ${middle} ${width} ${isSure}`)
      .join()
    const running = animal.steps.at(-1)?.limits.low
    const groups = animal.groups.map(({ weight, logMedians }) => `${weight} ${logMedians.join(' ')}`).join()
    const key = `${animal.clutch}|${marks}|${running}|${animal.isRunning}|${groups}`
    const alike = byLook.get(key)
    if (alike) {
      alike.ids.push(...animal.ids)
      alike.count += animal.count
    } else byLook.set(key, animal)
  }
  return [...byLook.values()]
}

function animalEvidence(record: ReadyRecord, clock: DevelopmentClock): AnimalEvidence {
  const marks = record.starts.map(({ moults, fromDay, untilDay, isSure }) => {
    const from = effectiveDaysAt(clock, fromDay)
    const until = effectiveDaysAt(clock, untilDay)
    return { moults, middle: (from + until) / 2, width: until - from, isSure }
  })
  const runningAt = record.runningDay === null ? null : effectiveDaysAt(clock, record.runningDay)
  return {
    ids: [record.animalId],
    clutch: record.clutch,
    count: record.count,
    marks,
    steps: [...stepsBetween(marks), ...stepsToNow(marks, runningAt)],
    isRunning: runningAt !== null,
    groups: record.groups,
  }
}

/** Ordered by their end, so that a sweep in this order has all it needs. */
function stepsBetween(marks: readonly Mark[]): Step[] {
  const steps: Step[] = []
  for (let end = 1; end < marks.length; end += 1) {
    for (let start = Math.max(0, end - LONGEST_STEP); start < end; start += 1) {
      const [first, second] = [marks[start]!, marks[end]!]
      const passed = second.middle - first.middle
      const half = Math.max(SHORTEST_WIDTH, second.width) / 2
      const isOne = second.moults - first.moults === 1
      steps.push({
        start,
        end,
        from: first.moults,
        until: second.moults,
        limits: { low: logOrNone(passed - half), high: logOrNone(passed + half) },
        startVariance: startVariance(first, passed),
        logLength: isOne && passed > 0 ? Math.log(passed) : null,
      })
    }
  }
  return steps
}

function stepsToNow(marks: readonly Mark[], runningAt: number | null): Step[] {
  if (runningAt === null) return []
  const until = (marks.at(-1)?.moults ?? 0) + 1
  return marks
    .map((mark, start) => ({
      start,
      end: marks.length,
      from: mark.moults,
      until,
      limits: { low: logOrNone(runningAt - mark.middle), high: Number.POSITIVE_INFINITY },
      startVariance: startVariance(mark, runningAt - mark.middle),
      logLength: null,
    }))
    .slice(-LONGEST_STEP)
}

/** That of a uniform spread, on the log scale; of short lengths no more than of three days. */
function startVariance(mark: Mark, passed: number): number {
  return mark.width ** 2 / (12 * Math.max(3, passed) ** 2)
}

function logOrNone(length: number): number {
  return length > 0 ? Math.log(length) : Number.NEGATIVE_INFINITY
}

/** Courses still open, those that look alike so far put together; the few answers there are, worked out once. */
function groupsByStage(profile: CareProfile): (record: DevelopmentRecord) => CourseGroup[] {
  const known = new Map<string, CourseGroup[]>()
  return (record) => {
    const moults = record.starts.at(-1)?.moults ?? 0
    const key = `${record.sex} ${moults} ${record.isAdult} ${record.hasWingBuds === true}`
    const before = known.get(key)
    if (before) return before
    const begun = record.isAdult ? moults : moults + 1
    const made = groupAlike(profile, coursesOf(profile, record, moults), begun)
    known.set(key, made)
    return made
  }
}

function coursesOf(profile: CareProfile, record: DevelopmentRecord, moults: number): DevelopmentCourse[] {
  if (!record.isAdult)
    return openCourses(profile, { sex: record.sex, moults, hasWingBuds: record.hasWingBuds })
  return openCourses(profile, { sex: record.sex, moults: Math.max(0, moults - 1), hasWingBuds: true })
}

function groupAlike(
  profile: CareProfile,
  courses: readonly DevelopmentCourse[],
  begun: number,
): CourseGroup[] {
  const groups = new Map<string, CourseGroup>()
  for (const course of courses) {
    const logMedians = Array.from({ length: begun }, (_, instar) =>
      Math.log(medianInstarDays(profile, course, instar)),
    )
    const key = logMedians.map((log) => log.toFixed(9)).join(' ')
    const group = groups.get(key)
    if (group) group.weight += course.weight
    else groups.set(key, { weight: course.weight, logMedians })
  }
  return [...groups.values()]
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
