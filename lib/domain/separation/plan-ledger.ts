import { lossOfDay, lossOfDays } from './plan-hazard'
import type { CountedRoom } from './plan-room'

/**
 * A plan being made, in whole animals: what is moved when, and what remains of minutes, cups and animals.
 * It only takes what fits, so that every way of planning ends in a plan that can be done. Changing a clutch
 * costs O(days).
 */
export type PlanLedger = {
  counted: CountedRoom
  /** Animals moved by clutch and day. */
  moved: number[][]
  /** The same by kind of container: [clutch][day][kind]. */
  byKind: number[][][]
  /** Expected animals still together after an evening's moves. */
  left: number[][]
  /** Expected losses by clutch, with the tail. */
  losses: number[]
  minutesLeft: number[]
  /** Stock minus what has been filled so far, by kind and day. */
  cupsLeft: number[][]
  /** Clutches whose rows a copy looks at as well: they are copied before they are written to. */
  isShared: boolean[]
}

const EPSILON = 1e-9

export function emptyLedger(counted: CountedRoom): PlanLedger {
  const { dayCount, room } = counted
  const ledger: PlanLedger = {
    counted,
    moved: room.clutches.map(() => new Array<number>(dayCount).fill(0)),
    byKind: room.clutches.map(() => Array.from({ length: dayCount }, () => counted.stock.map(() => 0))),
    left: room.clutches.map(() => new Array<number>(dayCount).fill(0)),
    losses: room.clutches.map(() => 0),
    minutesLeft: [...counted.minutes],
    cupsLeft: counted.stock.map((stock) => [...stock]),
    isShared: room.clutches.map(() => false),
  }
  room.clutches.forEach((_, clutch) => {
    follow(ledger, clutch)
  })
  return ledger
}

/** A copy to try something on: only the rows of clutches that are then changed are really copied. */
export function copyLedger(ledger: PlanLedger): PlanLedger {
  ledger.isShared.fill(true)
  return {
    counted: ledger.counted,
    moved: [...ledger.moved],
    byKind: [...ledger.byKind],
    left: [...ledger.left],
    losses: [...ledger.losses],
    minutesLeft: [...ledger.minutesLeft],
    cupsLeft: ledger.cupsLeft.map((days) => [...days]),
    isShared: [...ledger.isShared],
  }
}

function ownRows(ledger: PlanLedger, clutch: number): void {
  if (!ledger.isShared[clutch]) return
  ledger.moved[clutch] = [...ledger.moved[clutch]!]
  ledger.byKind[clutch] = ledger.byKind[clutch]!.map((kinds) => [...kinds])
  ledger.left[clutch] = [...ledger.left[clutch]!]
  ledger.isShared[clutch] = false
}

export function totalLoss(ledger: PlanLedger): number {
  return ledger.losses.reduce((sum, loss) => sum + loss, 0)
}

/** How many more of a clutch can be parted on an evening without taking anything from what is planned. */
export function roomFor(ledger: PlanLedger, clutch: number, day: number): number {
  const inTime = timeFor(ledger, clutch, day)
  if (inTime === 0) return 0
  return Math.min(inTime, cupsFor(ledger, clutch, day), animalsFor(ledger, clutch, day))
}

/** By the minutes alone, those for feeding later included. */
export function timeFor(ledger: PlanLedger, clutch: number, day: number): number {
  const { counted, minutesLeft, moved } = ledger
  if (!counted.isOpen[clutch]![day]) return 0
  const start = moved[clutch]![day]! > 0 ? 0 : counted.minutesPerClutch
  const byHands = Math.floor((minutesLeft[day]! - start) / counted.minutesPerNymph + EPSILON)
  if (byHands <= 0) return 0
  let least = byHands
  for (let later = day + 1; later < counted.dayCount; later += 1) {
    const feeding = counted.feedingMinutes[later]!
    if (feeding > 0) least = Math.min(least, Math.floor(minutesLeft[later]! / feeding + EPSILON))
  }
  return Math.max(0, least)
}

function cupsFor(ledger: PlanLedger, clutch: number, day: number): number {
  return ledger.counted.kinds[clutch]!.reduce((sum, kind) => sum + cupsOfKind(ledger, kind, day), 0)
}

function cupsOfKind(ledger: PlanLedger, kind: number, day: number): number {
  let least = Infinity
  const cups = ledger.cupsLeft[kind]!
  for (let later = day; later < cups.length; later += 1) least = Math.min(least, cups[later]!)
  return Math.max(0, least)
}

/** Animals that are there and not needed for a later evening's moves. */
function animalsFor(ledger: PlanLedger, clutch: number, day: number): number {
  const most = Math.floor(ledger.left[clutch]![day]! + EPSILON)
  if (most <= 0 || isThereFor(ledger, { clutch, day, count: most })) return Math.max(0, most)
  let enough = 0
  let tooMany = most
  while (tooMany - enough > 1) {
    const middle = (enough + tooMany) >> 1
    if (isThereFor(ledger, { clutch, day, count: middle })) enough = middle
    else tooMany = middle
  }
  return enough
}

function isThereFor(ledger: PlanLedger, move: { clutch: number; day: number; count: number }): boolean {
  const { hazard } = ledger.counted.room.clutches[move.clutch]!
  const moved = ledger.moved[move.clutch]!
  let left = ledger.left[move.clutch]![move.day]! - move.count
  for (let day = move.day + 1; day < moved.length; day += 1) {
    left -= lossOfDay(hazard, day - 1, left) + moved[day]!
    if (left < -EPSILON) return false
  }
  return true
}

/** Parts up to `count` more on an evening; returns how many fitted. */
export function addMove(ledger: PlanLedger, move: { clutch: number; day: number; count: number }): number {
  const count = Math.min(move.count, roomFor(ledger, move.clutch, move.day))
  let open = count
  for (const kind of ledger.counted.kinds[move.clutch]!) {
    const taken = Math.min(open, cupsOfKind(ledger, kind, move.day))
    fill(ledger, move, { kind, count: taken })
    open -= taken
  }
  spendTime(ledger, move, count)
  return count
}

/** Takes up to `count` animals out of an evening's moves again; returns how many. */
export function removeMove(ledger: PlanLedger, move: { clutch: number; day: number; count: number }): number {
  const count = Math.min(move.count, ledger.moved[move.clutch]![move.day]!)
  let open = count
  for (const kind of [...ledger.counted.kinds[move.clutch]!].reverse()) {
    const returned = Math.min(open, ledger.byKind[move.clutch]![move.day]![kind]!)
    fill(ledger, move, { kind, count: -returned })
    open -= returned
  }
  spendTime(ledger, move, -count)
  return count
}

function fill(
  ledger: PlanLedger,
  at: { clutch: number; day: number },
  cups: { kind: number; count: number },
): void {
  if (cups.count === 0) return
  ownRows(ledger, at.clutch)
  ledger.byKind[at.clutch]![at.day]![cups.kind]! += cups.count
  const left = ledger.cupsLeft[cups.kind]!
  for (let day = at.day; day < left.length; day += 1) left[day]! -= cups.count
}

function spendTime(ledger: PlanLedger, at: { clutch: number; day: number }, count: number): void {
  if (count === 0) return
  ownRows(ledger, at.clutch)
  const { counted, minutesLeft, moved } = ledger
  const before = moved[at.clutch]![at.day]!
  const after = before + count
  moved[at.clutch]![at.day] = after
  const starts = (after > 0 ? 1 : 0) - (before > 0 ? 1 : 0)
  minutesLeft[at.day]! -= count * counted.minutesPerNymph + starts * counted.minutesPerClutch
  for (let day = at.day + 1; day < counted.dayCount; day += 1)
    minutesLeft[day]! -= count * counted.feedingMinutes[day]!
  follow(ledger, at.clutch)
}

/** Works out again who is left and what is lost. */
function follow(ledger: PlanLedger, clutch: number): void {
  const { room, dayCount } = ledger.counted
  const { hazard, together } = room.clutches[clutch]!
  const moved = ledger.moved[clutch]!
  const left = ledger.left[clutch]!
  let present = together
  let lost = 0
  for (let day = 0; day < dayCount; day += 1) {
    left[day] = Math.max(0, present - moved[day]!)
    const loss = together < 2 ? 0 : lossOfDay(hazard, day, left[day]!)
    lost += loss
    present = left[day]! - loss
  }
  const tail = { from: dayCount, days: room.tailDays }
  ledger.losses[clutch] = together < 2 ? 0 : lost + lossOfDays(hazard, tail, present).loss
}
