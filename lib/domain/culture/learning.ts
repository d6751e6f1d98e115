import { daysBetween, type PlainDate } from '../calendar/date'
import { addUp, type Harvest, onsetDay, shareBefore } from './running'

/** A culture that has run its course, or is far along it. */
export type CultureRecord = {
  startedOn: PlainDate
  harvested: readonly Harvest[]
  endedOn: PlainDate
  hasCrashed?: boolean
  /** Suspected of mites: its yield says nothing about the line. */
  isSuspect?: boolean
}

/** What a line does in one room; with the number of cultures it rests on. */
export type LearnedLine = {
  mean: number
  cv: number
  crashChance: number
  /** Timing as a multiple of the default. */
  delayFactor: number
  cultures: number
  /** How far the mean is uncertain, as a share of it. */
  meanCv: number
}

/** A default counts as so many cultures of one's own. */
const PRIOR_CULTURES = 4
const PRIOR_CRASHES = 20
/** How far rooms differ from the default in timing, as a share. */
const ROOM_DELAY_SD = 0.1
const CULTURE_DELAY_SD = 0.05
/** Below this share of the line's mean a culture that has given most of its flies is a crash. */
const CRASH_BELOW = 0.25
const MOSTLY_DONE = 0.6

/**
 * Learns a line in a room from its finished cultures: conjugate updates of ln(yield) and of crashes, and the
 * delay from the middle of each culture's harvests. Cultures cut short are scaled up by the share of the
 * curve they had run.
 */
export function learnLine(
  records: readonly CultureRecord[],
  prior: { curve: readonly number[]; mean: number; cv: number; crashChance: number; crashShare: number },
): LearnedLine {
  const done = records
    .filter((record) => !record.isSuspect)
    .flatMap((record) => readRecord(record, prior.curve))
  const level = median(done.filter(({ hasCrashed }) => !hasCrashed).map(({ total }) => total)) ?? prior.mean
  const isCrash = ({ total, hasCrashed }: (typeof done)[number]) => hasCrashed || total < CRASH_BELOW * level
  const crashes = done.filter(isCrash).length
  const good = done.filter((each) => !isCrash(each))
  const logs = good.map(({ total }) => Math.log(Math.max(1, total)))
  const logVariance0 = Math.log1p(prior.cv ** 2)
  const logMean0 = Math.log(Math.max(1, prior.mean)) - logVariance0 / 2
  const count = logs.length
  const logMean = (PRIOR_CULTURES * logMean0 + sum(logs)) / (PRIOR_CULTURES + count)
  const own = count > 0 ? sum(logs) / count : logMean0
  const squares =
    sum(logs.map((log) => (log - own) ** 2)) +
    ((PRIOR_CULTURES * count) / (PRIOR_CULTURES + count)) * (own - logMean0) ** 2
  // A room whose mean lies elsewhere is not for that reason an uneven one: half the distance counts.
  const logVariance =
    (2 * PRIOR_CULTURES * logVariance0 + squares - distanceShare(count, own - logMean0)) /
    (2 * PRIOR_CULTURES + count)
  const delays = good.flatMap(({ delay }) => (delay === null ? [] : [Math.log(delay)]))
  const known = delays.length / CULTURE_DELAY_SD ** 2
  return {
    // Nobody's own jars say anything else yet, not of a line that is said to give nothing either.
    mean: count === 0 ? prior.mean : Math.exp(logMean + logVariance / 2),
    cv: Math.sqrt(Math.expm1(logVariance)),
    crashChance: (PRIOR_CRASHES * prior.crashChance + crashes) / (PRIOR_CRASHES + done.length),
    delayFactor: Math.exp(sum(delays) / CULTURE_DELAY_SD ** 2 / (known + 1 / ROOM_DELAY_SD ** 2)),
    cultures: done.length,
    meanCv: Math.sqrt(logVariance / (PRIOR_CULTURES + count)),
  }
}

function distanceShare(count: number, distance: number): number {
  return 0.5 * ((PRIOR_CULTURES * count) / (PRIOR_CULTURES + count)) * distance ** 2
}

function readRecord(record: CultureRecord, curve: readonly number[]) {
  const ran = shareBefore(addUp(curve), daysBetween(record.startedOn, record.endedOn) + 1)
  if (!record.hasCrashed && ran < MOSTLY_DONE) return []
  const taken = sum(record.harvested.map(({ count }) => Math.max(0, count)))
  const hasCrashed = record.hasCrashed ?? false
  return [{ total: taken / Math.max(MOSTLY_DONE, ran), hasCrashed, delay: delayOf(record, curve) }]
}

/** Mean age at harvest over the one expected; harvests gather what has come since the one before. */
function delayOf(record: CultureRecord, curve: readonly number[]): number | null {
  const harvests = [...record.harvested]
    .sort((a, b) => (a.on < b.on ? -1 : 1))
    .filter(({ count }) => count > 0)
  const taken = sum(harvests.map(({ count }) => count))
  const last = harvests.at(-1)
  if (harvests.length < 3 || !last || taken < 20) return null
  const onset = onsetDay(curve)
  let before = Math.max(0, onset - 1)
  const middle = harvests.reduce((total, { on, count }) => {
    const age = daysBetween(record.startedOn, on) + 1
    const at = (Math.min(before, age) + age) / 2
    before = age
    return total + (count / taken) * at
  }, 0)
  const until = daysBetween(record.startedOn, last.on) + 1
  const all = shareBefore(addUp(curve), until)
  const expected = curve.slice(0, until).reduce((total, share, day) => total + (share / all) * (day + 0.5), 0)
  return expected > 0 ? Math.min(1.4, Math.max(0.7, middle / expected)) : null
}

function sum(list: readonly number[]): number {
  return list.reduce((total, each) => total + each, 0)
}

function median(list: number[]): number | null {
  const sorted = [...list].sort((a, b) => a - b)
  return sorted[Math.floor(sorted.length / 2)] ?? null
}
