import type { Tuning } from './season-rules'

/**
 * What `tuneRule` found on the tuning seasons, by rule and cell; what is not here is tuned when it is asked for, and
 * `TUNE=yes npm run bench -- food` finds all of it anew.
 */
export const TUNED_NUMBERS: Record<string, Record<string, Tuning>> = {
  'base stock': {
    'steady/even': [1.5, 1.2, 1.2, 11, 0.8],
    'steady/uneven': [1.2, 1, 1.5, 22, 0.8],
  },
}
