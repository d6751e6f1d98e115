import { SEPARATION_LABOUR, type SeparationLabour } from './plan-room'

/** A finished run at the bench: how long it took, and how many animals went into cups. */
export type BenchRunTime = { minutes: number; cups: number }

export type LearnedLabour = SeparationLabour & { runs: number }

/** Too few cups to say anything, or a run that was left open over dinner or typed in afterwards. */
const LEAST_CUPS = 5
const LEAST_SECONDS = 5
const MOST_SECONDS = 400
/** How far rooms differ from the default, and runs of one room from each other, as logarithms. */
const ROOM_LOG_SD = 0.4
const RUN_LOG_SD = 0.35

/**
 * Seconds a nymph from the runs at the bench: ln s ~ N(ln 45, 0.4²), each run N(ln s, 0.35²); three or four runs
 * outweigh the default. Setting up and feeding have no clock of their own and stay as they are.
 */
export function learnLabour(runs: readonly BenchRunTime[]): LearnedLabour {
  const logs = runs.flatMap(({ minutes, cups }) => {
    const seconds = (60 * minutes) / Math.max(1, cups)
    return cups >= LEAST_CUPS && seconds >= LEAST_SECONDS && seconds <= MOST_SECONDS
      ? [Math.log(seconds)]
      : []
  })
  const prior = 1 / ROOM_LOG_SD ** 2
  const each = 1 / RUN_LOG_SD ** 2
  const sum = logs.reduce(
    (total, log) => total + each * log,
    prior * Math.log(SEPARATION_LABOUR.secondsPerNymph),
  )
  const secondsPerNymph = Math.round(Math.exp(sum / (prior + each * logs.length)))
  return { ...SEPARATION_LABOUR, secondsPerNymph, runs: logs.length }
}
