import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import { hardeningUntil } from '../development/hardening'
import { normalQuantile } from '../probability/normal'
import type { GroupSigns } from './input'

/**
 * What somebody saw of siblings together: how many had made a moult, whether two sizes stood side by side, whether
 * they were hungry, and what says that a moult is near. Siblings hide, so a share is a word and not a number; those
 * that hang from the lid can be counted.
 */
export const MOULTED_SHARES = ['none', 'first', 'some', 'most', 'all'] as const
export type MoultedShare = (typeof MOULTED_SHARES)[number]

export type ClutchSighting = {
  on: PlainDate
  /** Null where nobody said, as at the bench. */
  moulted: MoultedShare | null
  /** The moult spoken of, counted since hatch. */
  number: number
  sizeGap: boolean
  hunger: boolean
  /** So many hung for that moult; null where nobody counted them. */
  hanging?: number | null
  /** Wing buds showed: whoever has them makes the final moult next. */
  wingBuds?: boolean
  /** They refused food, as before a moult. */
  refusesFood?: boolean
}
export type SpokenSighting = ClutchSighting & { moulted: MoultedShare }

/** Somebody said how many had made the moult. */
export function isSpoken(seen: ClutchSighting): seen is SpokenSighting {
  return seen.moulted !== null
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

/** The signs that hold today: those of the last word about them, each for as long as it means anything. */
export function signsOf(sightings: readonly ClutchSighting[], today: PlainDate): GroupSigns {
  const last = sightingsAsOf(sightings, today).findLast(isSpoken)
  if (!last) return {}
  const age = daysBetween(last.on, today)
  return {
    hasSizeGap: last.sizeGap && age <= SIZE_GAP_DAYS,
    isHungry: last.hunger && age <= HUNGER_DAYS,
    isMixed: last.moulted !== 'none' && last.moulted !== 'all' && age <= MIXED_DAYS,
  }
}

/**
 * Who hung when somebody last counted them, and the first day on which their skin is hard again: whoever hangs has shed
 * by the next day. Null once that day has come, and where nobody hung.
 */
export function hangingOf(
  sightings: readonly ClutchSighting[],
  { profile, today }: { profile: CareProfile; today: PlainDate },
): { on: PlainDate; count: number; until: PlainDate } | null {
  const last = sightingsAsOf(sightings, today).findLast(({ hanging }) => typeof hanging === 'number')
  if (!last?.hanging) return null
  const until = hardeningUntil(profile, { lastMoultOn: addDays(last.on, 1), isFinal: false })
  return today < until ? { on: last.on, count: last.hanging, until } : null
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
  before: SpokenSighting | undefined,
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
