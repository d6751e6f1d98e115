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
export type Mark = { moults: number; middle: number; width: number }

/** ln of the median length by instar on courses that agree on all instars this animal has begun. */
export type CourseGroup = { weight: number; logMedians: number[] }

export type AnimalEvidence = {
  id: string
  clutch: string
  count: number
  marks: Mark[]
  runningAt: number | null
  groups: CourseGroup[]
}

/** In an order of its own (clutch, then animal), so that the order of rows changes nothing, not even rounding. */
export function evidenceOf(
  records: readonly DevelopmentRecord[],
  profile: CareProfile,
  thresholds: Thresholds,
): AnimalEvidence[] {
  const clocks = new Map<TemperatureHistory, DevelopmentClock>()
  const clockOf = (history: TemperatureHistory) => {
    const known = clocks.get(history)
    if (known) return known
    const made = developmentClock(history, thresholds)
    clocks.set(history, made)
    return made
  }
  const groupsOf = groupsByStage(profile)
  return records
    .filter(({ starts, runningOn, history }) => history.length > 0 && starts.length + (runningOn ? 1 : 0) > 1)
    .map((record) => animalEvidence(record, clockOf(record.history), groupsOf))
    .sort((a, b) => compareText(a.clutch, b.clutch) || compareText(a.id, b.id))
}

function animalEvidence(
  record: DevelopmentRecord,
  clock: DevelopmentClock,
  groupsOf: (record: DevelopmentRecord) => CourseGroup[],
): AnimalEvidence {
  const marks = record.starts.map(({ moults, earliestOn, latestOn }) => {
    const from = effectiveDaysAt(clock, dayNumber(earliestOn))
    const until = effectiveDaysAt(clock, dayNumber(latestOn) + 1)
    return { moults, middle: (from + until) / 2, width: until - from }
  })
  return {
    id: record.animalId,
    // An animal of unknown clutch is a clutch of one.
    clutch: record.clutchId ?? `alone ${record.animalId}`,
    count: record.count ?? 1,
    marks,
    runningAt: record.runningOn === null ? null : effectiveDaysAt(clock, dayNumber(record.runningOn) + 0.5),
    groups: groupsOf(record),
  }
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
