import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import { type ClutchSighting, isSpoken, type MoultedShare, type SpokenSighting } from '../separation/sighting'

/**
 * How the siblings of one clutch are spread over the instars as time goes: what was expected, and what was seen of
 * those parted, whose moults are on record one by one, and of those together, of whom there are words.
 */
export type CohortLife = {
  /** When its own record begins, and the moults it had behind it then. */
  fromOn: PlainDate
  fromMoults: number
  moults: readonly { on: PlainDate; number: number }[]
  /** The day it left or died; null while it is here. */
  untilOn: PlainDate | null
}

export type CohortDay = {
  on: PlainDate
  /** Expected shares by moults made. */
  expected: readonly number[]
  /** Those parted and alive that day, by moults made; null while there were too few to say anything. */
  seen: { animals: number; shares: readonly number[] } | null
}

/** What a word says of the share that has made the moult: at least, at most. */
export type SeenRange = { on: PlainDate; number: number; moulted: MoultedShare; low: number; high: number }

export type CohortCourse = { days: readonly CohortDay[]; words: readonly SeenRange[] }

export type CohortInput = {
  expectedOn: (on: PlainDate) => readonly number[]
  lives: readonly CohortLife[]
  sightings: readonly ClutchSighting[]
  hatchedOn: PlainDate
  today: PlainDate
  /** How far ahead the expectation is told. */
  daysAhead: number
}

/** Fewer animals than this make no share. */
const FEWEST = 3
const MOST_POINTS = 60

/** From the hatch to some days ahead, in at most sixty steps. O(steps × (animals + stages)). */
export function cohortCourse(input: CohortInput): CohortCourse {
  const { hatchedOn, today } = input
  const span = daysBetween(hatchedOn, addDays(today, input.daysAhead))
  const step = Math.max(1, Math.ceil(span / MOST_POINTS))
  const days: CohortDay[] = []
  // Counted back from today, so that today itself is one of the days.
  const first = daysBetween(hatchedOn, today) % step
  for (let day = first; day <= span; day += step) {
    const on = addDays(hatchedOn, day)
    days.push({
      on,
      expected: input.expectedOn(on),
      seen: on <= today ? sharesOfLives(input.lives, on) : null,
    })
  }
  return {
    days,
    words: input.sightings
      .filter(isSpoken)
      .filter(({ on }) => on <= today)
      .map(rangeOf),
  }
}

/** Shares of animals by moults made on a day; null where fewer than three were parted and alive. */
export function sharesOfLives(lives: readonly CohortLife[], on: PlainDate): CohortDay['seen'] {
  const present = lives.filter((life) => life.fromOn <= on && (life.untilOn === null || on < life.untilOn))
  if (present.length < FEWEST) return null
  const shares: number[] = []
  for (const life of present) {
    const moults = life.moults.findLast((moult) => moult.on <= on)?.number ?? life.fromMoults
    while (shares.length <= moults) shares.push(0)
    shares[moults]! += 1 / present.length
  }
  return { animals: present.length, shares }
}

const LIMITS: Record<MoultedShare, [low: number, high: number]> = {
  none: [0, 0.03],
  first: [0.01, 0.1],
  some: [0.1, 0.5],
  most: [0.5, 0.97],
  all: [0.97, 1],
}

function rangeOf({ on, number, moulted }: SpokenSighting): SeenRange {
  const [low, high] = LIMITS[moulted]
  return { on, number, moulted, low, high }
}

/** Stages in which anybody to speak of is expected or was seen, by moults made. */
export function listCohortStages({ days, words }: CohortCourse): number[] {
  const counted = days.flatMap(({ expected, seen }) => [expected, seen?.shares ?? []])
  const most = Math.max(
    0,
    ...counted.map((shares) => shares.length - 1),
    ...words.map(({ number }) => number),
  )
  return Array.from({ length: most + 1 }, (_, moults) => moults).filter(
    (moults) =>
      counted.some((shares) => (shares[moults] ?? 0) >= 0.05) ||
      words.some(({ number }) => number === moults),
  )
}

/** Mean number of moults made. */
export function meanMoults(shares: readonly number[]): number {
  return shares.reduce((sum, share, moults) => sum + share * moults, 0)
}

/**
 * The same in a sentence: whether those parted are ahead of what was expected of them. A quarter of a moult is
 * less than the dates of moults can tell.
 */
export function sayCohort(course: CohortCourse): string {
  const last = course.days.findLast(({ seen }) => seen !== null)
  if (!last?.seen)
    return course.words.length > 0 ? '' : 'Nothing has been seen of them yet that could be compared.'
  const ahead = meanMoults(last.seen.shares) - meanMoults(last.expected)
  const who = `The ${last.seen.animals} parted`
  if (Math.abs(ahead) < 0.25) return `${who} are where they were expected.`
  const size = Math.abs(ahead).toFixed(1)
  return ahead > 0
    ? `${who} are ahead: ${size} of a moult further than expected, on average.`
    : `${who} are behind: ${size} of a moult less than expected, on average.`
}
