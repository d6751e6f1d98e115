import { addDays, daysBetween, type PlainDate } from '../calendar/date'
import type { MoultChances } from '../development/forecast'
import type { Journey } from './journey'

/**
 * The chance that an animal is outside its moult and hardening windows from packing to arrival. With T(k) the day of
 * its k-th coming moult, it travels in the state after k moults when T(k) lies early enough for the skin to be hard
 * on the packing day, and T(k + 1) later than the arrival and the days on which its signs would already show:
 * P ≥ P(T(k) ≤ packing − hardening) − P(T(k + 1) ≤ arrival + signs). The two events nest unless an instar were
 * shorter than hardening, journey and signs together; then this is a little too careful. O(states) per journey.
 */
export type MoultCourse = {
  moults: number
  isAdult: boolean
  /** First day on which its last skin is hard; null where it is. */
  softUntil: PlainDate | null
  hardeningDays: { nymph: number; adult: number }
  /** Null where nothing is known to foresee a moult from; adults need none. */
  chances: ((moultsAhead: number) => MoultChances) | null
}

/** Moults since hatch, both ends included; `untilMoults` null for no end. An adult has had as many as it needed. */
export type StageWanted = {
  fromMoults: number
  untilMoults: number | null
  takes: 'nymph' | 'adult' | 'either'
}

export type Fitness = {
  /** P(it can travel in a wanted stage). */
  chance: number
  /** P(on the packing day it is not so far yet). */
  tooYoung: number
  /** P(by then it is past it). */
  pastStage: number
}

export type FitnessQuestion = {
  journey: Journey
  today: PlainDate
  stage: StageWanted
  signDays?: number
  /** From this chance on it does not matter how sure it is, nor how far below it. */
  enough?: number
}

/** Before a moult an animal hangs and fasts: no journey ends in the days in which the first signs would show. */
export const SIGN_DAYS = 2
const NEGLIGIBLE = 1e-4
const MOST_MOULTS_AHEAD = 12

/**
 * With `enough` the states that cannot decide any more are left out: a later moult costs a hundred times the next one.
 * Then `chance` is a lower bound on the right side of it.
 */
export function fitnessOn(course: MoultCourse, asked: FitnessQuestion): Fitness {
  const { stage, journey, enough = 2 } = asked
  const found: Fitness = { chance: 0, tooYoung: 0, pastStage: 0 }
  if (course.isAdult) {
    if (stage.takes === 'nymph') return { ...found, pastStage: 1 }
    return { ...found, chance: isHardOn(course, journey) ? 1 : 0 }
  }
  // What has not left a stage by the arrival can be in no later one, so most animals ask about one stage alone.
  let stillMoulting = course.chances ? 1 : 0
  for (let ahead = 0; ahead <= MOST_MOULTS_AHEAD && stillMoulting > NEGLIGIBLE; ahead += 1) {
    const place = placeOf(stage, course.moults + ahead)
    const reached = ahead === 0 ? null : reachedBy(course, ahead, asked)
    if (reached && enough <= 1 && found.chance + reached.hard < enough) {
      if (place !== 'wanted') found[place] += reached.here
      break
    }
    const state = stateAfter(course, ahead, asked)
    if (place === 'wanted') found.chance += state.fitNymph
    else found[place] += state.nymphHere
    if (stage.takes === 'nymph') found.pastStage += state.adultHere
    else found.chance += state.fitAdult
    stillMoulting = state.moultsOn
    if (found.chance >= enough) break
  }
  return {
    chance: Math.min(1, found.chance),
    tooYoung: Math.min(1, found.tooYoung),
    pastStage: Math.min(1, found.pastStage),
  }
}

/** At most so much of the chance lies in the state after so many moults and all later ones. */
function reachedBy(course: MoultCourse, ahead: number, { journey, today }: FitnessQuestion) {
  const came = course.chances?.(ahead)
  if (!came) return { hard: 0, here: 0 }
  const { nymph, adult } = course.hardeningDays
  const hardFrom = (days: number) => daysBetween(today, addDays(journey.packOn, -Math.ceil(days))) + 0.5
  const packing = daysBetween(today, journey.packOn)
  return {
    hard: came.nymph(hardFrom(nymph)) + came.adult(hardFrom(adult)),
    here: came.nymph(packing) + came.adult(packing),
  }
}

type State = { fitNymph: number; fitAdult: number; nymphHere: number; adultHere: number; moultsOn: number }

/** What may be said of the state after so many more moults; `moultsOn`: P(it has left it by the end of the journey). */
function stateAfter(
  course: MoultCourse,
  ahead: number,
  { journey, today, signDays }: FitnessQuestion,
): State {
  const { chances, hardeningDays } = course
  if (!chances) return { fitNymph: 0, fitAdult: 0, nymphHere: 0, adultHere: 0, moultsOn: 0 }
  const came = ahead === 0 ? null : chances(ahead)
  const next = chances(ahead + 1)
  const endOf = (on: PlainDate) => daysBetween(today, on) + 0.5
  const hardFrom = (days: number) => endOf(addDays(journey.packOn, -Math.ceil(days)))
  const leftBy = (days: number) => next.nymph(days) + next.adult(days)
  const packing = daysBetween(today, journey.packOn)
  const moultsOn = leftBy(endOf(addDays(journey.arriveOn, signDays ?? SIGN_DAYS)))
  const hardNymph = came ? came.nymph(hardFrom(hardeningDays.nymph)) : Number(isHardOn(course, journey))
  return {
    moultsOn,
    fitNymph: Math.max(0, hardNymph - moultsOn),
    fitAdult: came ? came.adult(hardFrom(hardeningDays.adult)) : 0,
    nymphHere: Math.max(0, (came ? came.nymph(packing) : 1) - leftBy(packing)),
    adultHere: came ? came.adult(packing) : 0,
  }
}

function placeOf({ fromMoults, untilMoults, takes }: StageWanted, moults: number) {
  if (takes === 'adult' || moults < fromMoults) return 'tooYoung' as const
  return untilMoults !== null && moults > untilMoults ? ('pastStage' as const) : ('wanted' as const)
}

function isHardOn({ softUntil }: MoultCourse, { packOn }: Journey): boolean {
  return softUntil === null || packOn >= softUntil
}
