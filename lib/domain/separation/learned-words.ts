import { writeCount } from '../calendar/wording'
import type { LearnedLabour } from './labour'
import type { LossScale } from './loss-scale'

/** "45 s a nymph (default)", "38 s a nymph, from 6 runs at the bench". */
export function sayLabour({ secondsPerNymph, runs }: LearnedLabour): string {
  return runs === 0
    ? `${secondsPerNymph} s a nymph (default)`
    : `${secondsPerNymph} s a nymph, from ${writeCount(runs, 'run')} at the bench`
}

/** "losses as in the care profiles …", "0.8 times the losses of the care profiles, from 2 settled clutches of its kind and 9 in all". */
export function sayLossScale({ scale, clutches, clutchesOfAll }: LossScale): string {
  if (clutchesOfAll === 0) return 'losses as in the care profiles, since no clutch of yours is settled yet'
  const all = writeSettled(clutchesOfAll)
  const own = writeSettled(clutches)
  const from = clutches === clutchesOfAll ? all : `${own} of its kind and ${clutchesOfAll} in all`
  return `${scale.toFixed(1)} times the losses of the care profiles, from ${from}`
}

function writeSettled(clutches: number): string {
  return clutches === 1 ? '1 settled clutch' : `${clutches} settled clutches`
}
