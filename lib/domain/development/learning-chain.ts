import { normalIntervalChance } from '../probability/normal-interval'
import type { Mark } from './learning-evidence'

/**
 * One animal's dates against expected lengths of its instars. Any date may be mis-keyed: a wrong date spoils
 * the instar before it and the one after it, but their sum still stands. So all ways to believe some dates
 * and not the others are weighed, as paths over the believed dates: a step from one believed date to the
 * next spans one instar or, over disbelieved dates, up to three. A running instar is a last step that is
 * longer than what has passed; it too may be wrong (a moult that nobody saw). O(3 × dates).
 */
export type ChainSettings = {
  noiseLogSd: number
  /** Share of dates that are mis-keyed; 0 believes everything. */
  wrongShare: number
  usesRunning: boolean
}

/**
 * A step that was weighed: how much it is believed, and how its log-likelihood pulls at the logarithm of
 * its length. `shares[i]` is the part of instar `from + i` in that length.
 */
export type Pull = {
  weight: number
  slope: number
  curvature: number
  from: number
  shares: number[]
  /** ln of the observed length less the expected one; null while it runs or spans several instars. */
  surprise: number | null
}

export type ChainResult = { chance: number; pulls: Pull[]; wrongChances: number[] }

/** A mis-keyed date may be anywhere in so many effective days. */
const WRONG_SPAN_DAYS = 60
const LONGEST_STEP = 3
const SHORTEST_WIDTH = 0.02

type Step = Pull & { start: number; end: number; chance: number }

export function weighChain(
  animal: { marks: readonly Mark[]; runningAt: number | null },
  logLengths: readonly number[],
  settings: ChainSettings,
): ChainResult {
  const { marks } = animal
  const last = marks.length - 1
  const steps = [...listSteps(marks, logLengths, settings)]
  const wrong = marks.map((mark) => settings.wrongShare * Math.min(1, mark.width / WRONG_SPAN_DAYS))
  const forward = marks.map((_, index) => (index === 0 ? 1 : 0))
  const gap = (start: number, end: number) => {
    let chance = 1
    for (let between = start + 1; between < end; between += 1) chance *= wrong[between]!
    return chance
  }
  for (const step of steps) {
    step.chance *= (1 - settings.wrongShare) * gap(step.start, step.end)
    forward[step.end]! += forward[step.start]! * step.chance
  }
  const ends = marks.map((_, index) => (index > last - LONGEST_STEP ? gap(index, last + 1) : 0))
  const running = runningSteps(animal, logLengths, settings)
  const open = ends.map((end, index) => end * (running[index]?.ending ?? 1))
  const chance = open.reduce((sum, end, index) => sum + forward[index]! * end, 0)
  const backward = [...open]
  for (const step of steps.toReversed()) backward[step.start]! += step.chance * backward[step.end]!
  const pulls: Pull[] = []
  for (const step of steps)
    pulls.push({ ...step, weight: (forward[step.start]! * step.chance * backward[step.end]!) / chance })
  running.forEach((step, index) => {
    if (step) pulls.push({ ...step, weight: (forward[index]! * ends[index]! * step.believed) / chance })
  })
  return {
    chance,
    pulls: pulls.filter(({ weight }) => weight > 1e-9),
    wrongChances: marks.map((_, index) => Math.max(0, 1 - (forward[index]! * backward[index]!) / chance)),
  }
}

/** Steps between dates, by their end, so that a sweep in this order has all it needs. */
function* listSteps(
  marks: readonly Mark[],
  logLengths: readonly number[],
  settings: ChainSettings,
): Generator<Step> {
  const longest = settings.wrongShare > 0 ? LONGEST_STEP : 1
  for (let end = 1; end < marks.length; end += 1) {
    for (let start = Math.max(0, end - longest); start < end; start += 1) {
      const [first, second] = [marks[start]!, marks[end]!]
      const half = Math.max(SHORTEST_WIDTH, second.width) / 2
      const passed = second.middle - first.middle
      const pull = intervalPull(
        { from: first.moults, until: second.moults, startWidth: first.width },
        { low: passed - half, high: passed + half, typical: passed },
        { logLengths, noiseLogSd: settings.noiseLogSd },
      )
      yield { ...pull, start, end }
    }
  }
}

type RunningStep = Pull & { ending: number; believed: number }

/** The last step from each date that may be the last believed one. */
function runningSteps(
  { marks, runningAt }: { marks: readonly Mark[]; runningAt: number | null },
  logLengths: readonly number[],
  settings: ChainSettings,
): (RunningStep | null)[] {
  if (runningAt === null || !settings.usesRunning) return marks.map(() => null)
  const until = (marks.at(-1)?.moults ?? 0) + 1
  const longest = settings.wrongShare > 0 ? LONGEST_STEP : 1
  return marks.map((mark, index) => {
    if (index < marks.length - longest) return null
    const passed = runningAt - mark.middle
    const pull = intervalPull(
      { from: mark.moults, until, startWidth: mark.width },
      { low: passed, high: Number.POSITIVE_INFINITY, typical: passed },
      { logLengths, noiseLogSd: settings.noiseLogSd },
    )
    const believed = (1 - settings.wrongShare) * pull.chance
    return { ...pull, believed, ending: believed + settings.wrongShare, surprise: null }
  })
}

/**
 * The length of the instars `from` up to (not including) `until` lies in a span of effective days; what is
 * unknown of their start widens it as a uniform spread would.
 */
function intervalPull(
  instars: { from: number; until: number; startWidth: number },
  span: { low: number; high: number; typical: number },
  expected: { logLengths: readonly number[]; noiseLogSd: number },
): Pull & { chance: number } {
  const { logMean, logVariance, shares } = lengthOf(instars, expected)
  const scale = Math.max(1, span.typical, Math.exp(logMean) / 3)
  const logSd = Math.sqrt(logVariance + instars.startWidth ** 2 / (12 * scale * scale))
  const limits = {
    low: span.low > 0 ? Math.log(span.low) : Number.NEGATIVE_INFINITY,
    high: span.high > 0 ? Math.log(span.high) : Number.NEGATIVE_INFINITY,
  }
  if (limits.high === Number.NEGATIVE_INFINITY)
    return { weight: 0, slope: 0, curvature: 0, from: instars.from, shares, surprise: null, chance: 1e-300 }
  const { chance, slope, curvature } = normalIntervalChance(limits, logMean, logSd)
  const surprise = shares.length === 1 && span.typical > 0 ? Math.log(span.typical) - logMean : null
  return { weight: 0, slope, curvature, from: instars.from, shares, surprise, chance }
}

/** One instar is lognormal; several are taken as the lognormal with the mean and variance of their sum. */
function lengthOf(
  { from, until }: { from: number; until: number },
  { logLengths, noiseLogSd }: { logLengths: readonly number[]; noiseLogSd: number },
): { logMean: number; logVariance: number; shares: number[] } {
  const noise = noiseLogSd ** 2
  if (until - from === 1) return { logMean: logLengths[from]!, logVariance: noise, shares: [1] }
  const means = logLengths.slice(from, until).map((log) => Math.exp(log + noise / 2))
  const mean = means.reduce((sum, one) => sum + one, 0)
  const squares = means.reduce((sum, one) => sum + one * one, 0)
  const logVariance = Math.log1p((squares * Math.expm1(noise)) / (mean * mean))
  return { logMean: Math.log(mean) - logVariance / 2, logVariance, shares: means.map((one) => one / mean) }
}
