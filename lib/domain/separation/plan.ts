import type { PlainDate } from '../calendar/date'
import { checkPlan } from './plan-check'
import { lossOfDay, lossOfDays } from './plan-hazard'
import { type PlanHelp, planHelps } from './plan-help'
import { preferredKinds } from './plan-kinds'
import { type PlanLedger, totalLoss } from './plan-ledger'
import { countRoom, type SeparationRoom } from './plan-room'
import { quickPlan, type Solving, searchPlan } from './plan-search'

/** Which siblings to part on which evening, so that as few as can be are lost. */
export type SeparationPlan = {
  /** 'quick' without a solver; 'timed-out' where the best found in time is shown. */
  status: 'optimal' | 'timed-out' | 'quick'
  expectedLosses: number
  /** If nobody is parted. */
  expectedLossesUntouched: number
  /** No plan loses fewer; null where it is not known. */
  atLeast: number | null
  days: PlanDay[]
  missed: MissedDeadline[]
  leftAtEnd: { clutch: string; count: number }[]
  helps: PlanHelp[]
}

export type PlanDay = {
  on: PlainDate
  moves: PlanMove[]
  /** Work of the evening: set-ups, nymphs, and the feeding of cups filled on days before. */
  minutes: number
}

export type PlanMove = { clutch: string; count: number; containerKind: string }

/** A clutch still together after the evening by which it should have been apart. */
export type MissedDeadline = {
  clutch: string
  label: string
  apartBy: PlainDate
  /** Expected animals together after that evening. */
  count: number
  /** Expected losses from that evening on. */
  cost: number
}

export type PlanOptions = {
  /** Programs solved, each with set-ups shared as the last one parted; 2 is within a few parts in a thousand of 6. */
  rounds: number
  /** How many helps are tried, each by a new solve; 0 for none. */
  helpsTried: number
}

export const PLAN_OPTIONS: PlanOptions = { rounds: 2, helpsTried: 0 }

/** Answers at once, for a slider that moves. Cost about clutches × days × evenings used. */
export function planQuickly(room: SeparationRoom): SeparationPlan {
  const counted = countRoom(room)
  return readPlan(quickPlan(counted), { status: 'quick', atLeast: null, helps: [] })
}

/**
 * The plan, by programs that the caller has solved. Empty and impossible rooms need none of them.
 * @throws Error when an answer breaks a constraint, which would be a mistake in here
 */
export function* planSeparation(room: SeparationRoom, options = PLAN_OPTIONS): Solving<SeparationPlan> {
  const counted = countRoom(room)
  const found = yield* searchPlan(counted, { rounds: options.rounds })
  const helps =
    found.isComplete && options.helpsTried > 0
      ? yield* planHelps(room, found, { rounds: options.rounds, tried: options.helpsTried })
      : []
  const status = found.isComplete ? 'optimal' : 'timed-out'
  return readPlan(found.ledger, { status, atLeast: found.atLeast, helps })
}

/** Minutes of an evening that go into feeding the cups filled on evenings before: what is not parting. */
export function feedingMinutesOf(day: PlanDay, labour: SeparationRoom['labour']): number {
  const nymphs = day.moves.reduce((sum, { count }) => sum + count, 0)
  const clutches = new Set(day.moves.map(({ clutch }) => clutch)).size
  const parting = (nymphs * labour.secondsPerNymph) / 60 + clutches * labour.minutesPerClutchEvening
  return Math.max(0, day.minutes - parting)
}

/** A finished ledger as people read it, checked by a validator that knows only the constraints. */
export function readPlan(
  ledger: PlanLedger,
  known: Pick<SeparationPlan, 'status' | 'atLeast' | 'helps'>,
): SeparationPlan {
  const { room, dayCount } = ledger.counted
  const byKind = preferredKinds(ledger)
  const plan: SeparationPlan = {
    ...known,
    expectedLosses: totalLoss(ledger),
    expectedLossesUntouched: room.clutches.reduce((sum, clutch) => {
      const span = { from: 0, days: dayCount + room.tailDays }
      return clutch.together < 2 ? sum : sum + lossOfDays(clutch.hazard, span, clutch.together).loss
    }, 0),
    days: room.days.map(({ on }, day) => ({
      on,
      moves: readMoves(ledger, byKind, day),
      minutes: workOf(ledger, day),
    })),
    missed: room.clutches.flatMap((_, clutch) => readMissed(ledger, clutch)),
    leftAtEnd: room.clutches.flatMap(({ id, together }, clutch) => {
      const count = Math.round(dayCount > 0 ? ledger.left[clutch]![dayCount - 1]! : together)
      return count > 0 ? [{ clutch: id, count }] : []
    }),
  }
  const broken = checkPlan(room, plan)
  if (broken.length > 0) throw new Error(`the plan cannot be done: ${broken.join('; ')}`)
  return plan
}

function readMoves(ledger: PlanLedger, byKind: number[][][], day: number): PlanMove[] {
  const { room } = ledger.counted
  return room.clutches.flatMap(({ id }, clutch) =>
    byKind[clutch]![day]!.flatMap((count, kind) =>
      count > 0 ? [{ clutch: id, count, containerKind: room.containerKinds[kind]!.id }] : [],
    ),
  )
}

function workOf(ledger: PlanLedger, day: number): number {
  return Math.max(0, ledger.counted.minutes[day]! - ledger.minutesLeft[day]!)
}

function readMissed(ledger: PlanLedger, clutch: number): MissedDeadline[] {
  const { room, dayCount } = ledger.counted
  const { id, label, apartBy, hazard } = room.clutches[clutch]!
  const first = room.days[0]
  if (apartBy === null || !first || apartBy > room.days[dayCount - 1]!.on) return []
  const day = Math.max(
    0,
    room.days.findIndex(({ on }) => on === apartBy),
  )
  const left = ledger.left[clutch]!
  // Less than a whole animal is what may be left of an expectation, and nobody who could still be parted.
  const count = Math.floor(left[day]! + 1e-6)
  if (count < 1 || room.clutches[clutch]!.together < 2) return []
  let cost = 0
  for (let later = day; later < dayCount; later += 1) cost += lossOfDay(hazard, later, left[later]!)
  const present = left[dayCount - 1]! - lossOfDay(hazard, dayCount - 1, left[dayCount - 1]!)
  cost += lossOfDays(hazard, { from: dayCount, days: room.tailDays }, present).loss
  return [{ clutch: id, label, apartBy, count, cost }]
}
