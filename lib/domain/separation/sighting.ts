import { daysBetween, type PlainDate } from '../calendar/date'
import { normalQuantile } from '../probability/normal'
import type { GroupSigns } from './input'

/**
 * What somebody saw of siblings together: how many had made a moult, whether two sizes stood side by side, whether
 * they were hungry. Siblings hide, so a share is a word and not a number.
 */
export const MOULTED_SHARES = ['none', 'first', 'some', 'most', 'all'] as const
export type MoultedShare = (typeof MOULTED_SHARES)[number]

export type ClutchSighting = {
  on: PlainDate
  moulted: MoultedShare
  /** The moult spoken of, counted since hatch. */
  number: number
  sizeGap: boolean
  hunger: boolean
}

export const MOULTED_WORDS: Record<MoultedShare, string> = {
  none: 'None yet',
  first: 'The first',
  some: 'Some',
  most: 'Most',
  all: 'All',
}

/** A mixed group is one for as long as one moult takes to go through it (default, days). */
const MIXED_DAYS = 4
/** Two sizes stay two sizes until they have been sorted or somebody looks again (default, days). */
const SIZE_GAP_DAYS = 7
/** Hungry siblings are fed, or are no longer siblings (default, days). */
const HUNGER_DAYS = 3

/** What was seen by a day, latest last. */
export function sightingsAsOf(sightings: readonly ClutchSighting[], today: PlainDate): ClutchSighting[] {
  return sightings.filter(({ on }) => on <= today).sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0))
}

/** The signs that hold today: those of the last sighting, each for as long as it means anything. */
export function signsOf(sightings: readonly ClutchSighting[], today: PlainDate): GroupSigns {
  const last = sightingsAsOf(sightings, today).at(-1)
  if (!last) return {}
  const age = daysBetween(last.on, today)
  return {
    hasSizeGap: last.sizeGap && age <= SIZE_GAP_DAYS,
    isHungry: last.hunger && age <= HUNGER_DAYS,
    isMixed: last.moulted !== 'none' && last.moulted !== 'all' && age <= MIXED_DAYS,
  }
}

/** Shares that the words stand for, where one number is needed. */
const LIKELY_SHARE: Record<MoultedShare, number> = {
  none: 0.005,
  first: 0.05,
  some: 0.3,
  most: 0.7,
  all: 0.995,
}

/**
 * Which moult is spoken of where nobody said: the one whose expected share is nearest to the word, and not one that an
 * earlier sighting has finished. `shares` are the expected ones by moults made, on that day.
 */
export function likelyMoultNumber(
  shares: readonly number[],
  moulted: MoultedShare,
  before: ClutchSighting | undefined,
): number {
  const most = Math.max(1, shares.length - 1)
  const least = before ? before.number + (isFinished(before.moulted, moulted) ? 1 : 0) : 1
  const wanted = zOf(LIKELY_SHARE[moulted])
  let [best, distance] = [Math.min(least, most), Number.POSITIVE_INFINITY]
  for (let number = Math.min(least, most); number <= most; number += 1) {
    const past = shares.slice(number).reduce((sum, share) => sum + share, 0)
    const off = Math.abs(zOf(past) - wanted)
    // Of moults that all have made, the last; of those nobody has, the next.
    if (off < distance || (moulted === 'all' && off === distance)) [best, distance] = [number, off]
  }
  return best
}

/** Fewer have moulted than before: it is the next moult that begins. */
function isFinished(before: MoultedShare, now: MoultedShare): boolean {
  return before === 'all' || MOULTED_SHARES.indexOf(now) < MOULTED_SHARES.indexOf(before)
}

function zOf(share: number): number {
  return normalQuantile(Math.min(0.995, Math.max(0.005, share)))
}
