import type { Tuning } from './season-rules'

/**
 * What `tuneRule` found on the tuning seasons, by rule and cell; what is not here is tuned when it is asked for, and
 * `TUNE=yes npm run bench -- food` finds all of it anew.
 */
export const TUNED_NUMBERS: Record<string, Record<string, Tuning>> = {
  constant: {
    'steady/even': [8, 15, 5],
    'steady/uneven': [8, 15, 5],
    'bursts/even': [15, 15, 5],
    'bursts/uneven': [15, 15, 5],
    'winter sell-down/even': [11, 15, 5],
    'winter sell-down/uneven': [11, 15, 5],
  },
  proportional: {
    'steady/even': [1.9, 1.5, 1.9],
    'steady/uneven': [2.4, 1.5, 1.9],
    'bursts/even': [2.4, 1.9, 1.5],
    'bursts/uneven': [2.4, 1.5, 1.9],
    'winter sell-down/even': [1.9, 1.2, 1.5],
    'winter sell-down/uneven': [1.9, 1.5, 1.5],
  },
  'look-ahead': {
    'steady/even': [1.9, 1.5, 1.2],
    'steady/uneven': [2.4, 1.5, 1.2],
    'bursts/even': [1.9, 1.5, 1.2],
    'bursts/uneven': [2.4, 1, 1.5],
    'winter sell-down/even': [1.9, 1.5, 1.2],
    'winter sell-down/uneven': [1.5, 1.5, 1.2],
  },
  'base stock': {
    'steady/even': [1.5, 1.2, 1.2, 11, 0.8],
    'steady/uneven': [1.2, 1, 1.5, 22, 0.8],
    'bursts/even': [1.5, 1.2, 1.2, 16, 0.8],
    'bursts/uneven': [1.2, 0.8, 1.5, 22, 0.8],
    'winter sell-down/even': [1.2, 1, 1.5, 16, 0.5],
    'winter sell-down/uneven': [1.5, 1, 1.5, 16, 0.5],
  },
}
