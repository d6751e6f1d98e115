import { addDays, type PlainDate } from '../calendar/date'
import type { CareProfile } from '../care-profile/profile'
import type { TemperatureHistory } from '../development/clock'
import { sharesByDay } from './deadline'
import { riskPerAnimalDay } from './risk'

/**
 * A workspace's own losses against the expected ones: siblings that hatched and were neither parted nor found
 * dead of something else. A factor for every default risk, 1 where nothing is known.
 *
 * Losses come in bouts, so they are taken as a count with twice the spread of independent ones, and the factor as
 * gamma with mean 1 and shape 4: (4 + lost ÷ 2) ÷ (4 + expected ÷ 2). A species starts from the factor of all and
 * moves on by its own clutches in the same way.
 */
export type LossScale = {
  scale: number
  /** Settled clutches it is of. */
  clutches: number
  /** Those of all species, on whose factor it leans; the same for the factor of all. */
  clutchesOfAll: number
  lost: number
  expected: number
}

/** A group's course: how many joined (or left, below zero) on a day, and how many of those vanished. */
export type GroupCourse = {
  clutchId: string
  speciesId: string
  profile: CareProfile
  hatchedOn: PlainDate
  history: TemperatureHistory
  changes: readonly { on: PlainDate; change: number; vanished: number }[]
  /** Nobody is together any more, and the count is known: what is missing has been counted. */
  isSettled: boolean
}

export const LOSS_SHAPE = 4
export const LOSS_SPREAD = 2
/** The risk of a day stands for the next one too: half the work, and no visible difference. */
const STEP_DAYS = 2

/** Expected losses at the defaults of the profile, up to a day. Cost O(days). */
export function expectedLosses(course: GroupCourse, until: PlainDate): number {
  const { profile, hatchedOn, history } = course
  const shares = sharesByDay({ profile, hatchedOn, history, together: 0, today: until })
  const changes = [...course.changes].sort((one, other) => (one.on < other.on ? -1 : 1))
  const last = course.isSettled ? (changes.at(-1)?.on ?? hatchedOn) : until
  let expected = 0
  let together = 0
  let next = 0
  for (let on = hatchedOn; on < last; on = addDays(on, STEP_DAYS)) {
    for (; next < changes.length && changes[next]!.on <= on; next += 1) together += changes[next]!.change
    if (together > 1)
      expected += STEP_DAYS * together * riskPerAnimalDay(profile, { shares: shares(on), together })
  }
  return expected
}

export type LearnedLosses = { all: LossScale; bySpecies: ReadonlyMap<string, LossScale> }

/** From settled clutches alone: in the others nobody knows yet who is missing. */
export function learnLossScales(courses: readonly GroupCourse[], today: PlainDate): LearnedLosses {
  const settled = courses
    .filter(({ isSettled, history }) => isSettled && history.length > 0)
    .map((course) => ({
      speciesId: course.speciesId,
      lost: vanishedOf(course),
      expected: expectedLosses(course, today),
    }))
  const all = scaleOf(settled, { scale: 1, clutchesOfAll: settled.length })
  const bySpecies = new Map<string, LossScale>()
  for (const { speciesId } of settled)
    if (!bySpecies.has(speciesId))
      bySpecies.set(
        speciesId,
        scaleOf(
          settled.filter((other) => other.speciesId === speciesId),
          all,
        ),
      )
  return { all, bySpecies }
}

export function lossScaleOf(learned: LearnedLosses, speciesId: string): LossScale {
  return learned.bySpecies.get(speciesId) ?? learned.all
}

function scaleOf(
  clutches: readonly { lost: number; expected: number }[],
  before: Pick<LossScale, 'scale' | 'clutchesOfAll'>,
): LossScale {
  const lost = clutches.reduce((sum, clutch) => sum + clutch.lost, 0)
  const expected = clutches.reduce((sum, clutch) => sum + clutch.expected, 0)
  const scale = (LOSS_SHAPE * before.scale + lost / LOSS_SPREAD) / (LOSS_SHAPE + expected / LOSS_SPREAD)
  return { scale, clutches: clutches.length, clutchesOfAll: before.clutchesOfAll, lost, expected }
}

function vanishedOf(course: GroupCourse): number {
  return Math.max(
    0,
    course.changes.reduce((sum, { vanished }) => sum + vanished, 0),
  )
}

/** So many more than expected have to be missing, in spreads of the count, before it is called unexpected. */
const UNEXPECTED_SPREADS = 2
const LEAST_UNEXPECTED = 3

/** Whether a group that is still together has lost clearly more than its kind does here. */
export function hasUnexpectedLosses(course: GroupCourse, scale: number, today: PlainDate): boolean {
  const lost = vanishedOf(course)
  if (lost < LEAST_UNEXPECTED || course.history.length === 0) return false
  const expected = scale * expectedLosses(course, today)
  return lost > expected + UNEXPECTED_SPREADS * Math.sqrt(LOSS_SPREAD * Math.max(1, expected))
}
