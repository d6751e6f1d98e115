import { lossOfDay, lossOfDays } from './plan-hazard'
import { addMove, type PlanLedger, removeMove, roomFor, timeFor } from './plan-ledger'

/**
 * Improves a plan that can be done, in place, judged by its exact expected loss: later moves of a clutch are
 * pulled forward into an evening with time, then idle minutes are filled where they save most. Never makes a
 * plan worse.
 */
export function refillPlan(ledger: PlanLedger): PlanLedger {
  pullForward(ledger)
  fillIdleTime(ledger)
  return ledger
}

/** Adds the batch that saves most per minute until nothing fits. */
function fillIdleTime(ledger: PlanLedger): void {
  const { counted } = ledger
  for (;;) {
    let best = { clutch: -1, day: -1, count: 0, worth: 1e-6 }
    for (let clutch = 0; clutch < ledger.moved.length; clutch += 1)
      for (let day = 0; day < counted.dayCount; day += 1) {
        if (timeFor(ledger, clutch, day) === 0) continue
        const count = roomFor(ledger, clutch, day)
        if (count === 0) continue
        const start = ledger.moved[clutch]![day]! > 0 ? 0 : counted.minutesPerClutch
        const worth = savedBy(ledger, { clutch, day, count }) / (start + count * counted.minutesPerNymph)
        if (worth > best.worth) best = { clutch, day, count, worth }
      }
    if (best.clutch < 0) return
    addMove(ledger, best)
  }
}

/** Expected animals saved by parting `count` more on a day, later moves as they are. O(days). */
function savedBy(ledger: PlanLedger, move: { clutch: number; day: number; count: number }): number {
  const { room, dayCount } = ledger.counted
  const { hazard } = room.clutches[move.clutch]!
  const moved = ledger.moved[move.clutch]!
  let before = ledger.left[move.clutch]![move.day]!
  let after = before - move.count
  let saved = 0
  for (let day = move.day; day < dayCount; day += 1) {
    if (day > move.day) {
      before -= moved[day]!
      after -= moved[day]!
    }
    const lossBefore = lossOfDay(hazard, day, before)
    const lossAfter = lossOfDay(hazard, day, after)
    saved += lossBefore - lossAfter
    before -= lossBefore
    after -= lossAfter
  }
  const tail = { from: dayCount, days: room.tailDays }
  return saved + lossOfDays(hazard, tail, before).loss - lossOfDays(hazard, tail, after).loss
}

/** Into evenings with time that the clutch is taken up on anyway, from its last evening first. */
function pullForward(ledger: PlanLedger): void {
  const { counted } = ledger
  for (let day = 0; day < counted.dayCount; day += 1)
    for (let clutch = 0; clutch < ledger.moved.length; clutch += 1) {
      if (ledger.moved[clutch]![day] === 0) continue
      for (let later = counted.dayCount - 1; later > day; later -= 1) pullFrom(ledger, { clutch, day, later })
    }
}

function pullFrom(ledger: PlanLedger, move: { clutch: number; day: number; later: number }): void {
  const { clutch, day, later } = move
  const planned = ledger.moved[clutch]![later]!
  if (planned === 0) return
  const wanted = Math.min(planned, timeFor(ledger, clutch, day))
  if (wanted === 0) return
  const before = ledger.losses[clutch]!
  removeMove(ledger, { clutch, day: later, count: wanted })
  const added = addMove(ledger, { clutch, day, count: wanted })
  if (ledger.losses[clutch]! < before) return
  removeMove(ledger, { clutch, day, count: added })
  addMove(ledger, { clutch, day: later, count: wanted })
}
