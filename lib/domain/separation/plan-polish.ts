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

type Batch = { clutch: number; day: number; count: number; worth: number }

/** What it has to save, in animals a minute, to be worth an entry. */
const LEAST_WORTH = 1e-6

/**
 * Adds the batch that saves most per minute until nothing fits. Adding one makes others worth less, hardly ever
 * more, so only the one that was best is looked at again before it is taken.
 */
function fillIdleTime(ledger: PlanLedger): void {
  const batches: Batch[] = []
  for (let clutch = 0; clutch < ledger.moved.length; clutch += 1)
    for (let day = 0; day < ledger.counted.dayCount; day += 1) {
      const batch = judgeBatch(ledger, clutch, day)
      if (batch.worth > LEAST_WORTH) batches.push(batch)
    }
  batches.sort((one, other) => one.worth - other.worth)
  for (let batch = batches.pop(); batch; batch = batches.pop()) {
    const now = judgeBatch(ledger, batch.clutch, batch.day)
    if (now.worth <= LEAST_WORTH) continue
    if (now.worth >= (batches.at(-1)?.worth ?? 0)) addMove(ledger, now)
    else insertBatch(batches, now)
  }
}

function judgeBatch(ledger: PlanLedger, clutch: number, day: number): Batch {
  const { minutesPerClutch, minutesPerNymph } = ledger.counted
  const count = ledger.left[clutch]![day]! < 1 ? 0 : roomFor(ledger, clutch, day)
  if (count === 0) return { clutch, day, count, worth: 0 }
  const start = ledger.moved[clutch]![day]! > 0 ? 0 : minutesPerClutch
  return {
    clutch,
    day,
    count,
    worth: savedBy(ledger, { clutch, day, count }) / (start + count * minutesPerNymph),
  }
}

/** Into a list that rises by worth. */
function insertBatch(batches: Batch[], batch: Batch): void {
  let place = batches.length
  while (place > 0 && batches[place - 1]!.worth > batch.worth) place -= 1
  batches.splice(place, 0, batch)
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
