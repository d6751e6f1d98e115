import { writeCount } from '../calendar/wording'
import type { LearnedLabour } from './labour'
import type { LossScale } from './loss-scale'

/** "45 s a nymph (default)", "38 s a nymph, from 6 runs at the bench". */
export function sayLabour({ secondsPerNymph, runs }: LearnedLabour): string {
  return runs === 0
    ? `${secondsPerNymph} s a nymph (default)`
    : `${secondsPerNymph} s a nymph, from ${writeCount(runs, 'run')} at the bench`
}

/** "losses as in the care profiles (no settled clutch yet)", "0.8 times the usual losses, from 9 clutches". */
export function sayLossScale({ scale, clutches }: LossScale): string {
  if (clutches === 0) return 'losses as in the care profiles, since no clutch of yours is settled yet'
  const of = clutches === 1 ? '1 settled clutch' : `${clutches} settled clutches`
  return `${scale.toFixed(1)} times the losses of the care profiles, from ${of}`
}
