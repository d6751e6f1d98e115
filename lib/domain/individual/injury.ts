import type { RecordedMoult } from './record'

/** A lost limb is back after one or two moults; a bad moult shows until the next one. */
const REGROWN_AFTER_MOULTS = 2

/**
 * What a buyer has to know of: the note of a moult that went badly and has not been outgrown, in the keeper's own
 * words, or the plain fact. Empty when there is nothing.
 */
export function injuriesOf(moults: readonly (RecordedMoult & { note: string })[]): string {
  const open = moults.filter(({ outcome }, index) => {
    const since = moults.length - 1 - index
    if (outcome === 'lost_limb') return since < REGROWN_AFTER_MOULTS
    return outcome === 'bad' && since < 1
  })
  return open.map(({ outcome, note }) => note || PLAIN[outcome]).join('; ')
}

const PLAIN = { good: '', bad: 'bad moult', lost_limb: 'lost limb' } as const
