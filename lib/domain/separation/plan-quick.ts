import { lossOfDays, marginalLossOfDay } from './plan-hazard'
import { addMove, emptyLedger, type PlanLedger, roomFor } from './plan-ledger'
import type { CountedRoom } from './plan-room'

/**
 * Plans without a solver, evening by evening: the animals go where a minute saves most. They answer while a
 * slider moves, give the program its first candidates, and are the fall-back when time runs out.
 */

/** How many of an opened clutch are parted before the question is asked again. */
const CHUNK_ANIMALS = 5

/** Whole clutches, the one with the highest hazard per minute first. */
export function planByIndex(counted: CountedRoom): PlanLedger {
  return planEvenings(counted, { lookAheadDays: 1, chunk: Infinity })
}

/** The next five animals where the hazard per minute is highest, the clutch's set-up shared by its batch. */
export function planByWaterFilling(counted: CountedRoom, lookAheadDays = 1): PlanLedger {
  return planEvenings(counted, { lookAheadDays, chunk: CHUNK_ANIMALS })
}

type Manner = { lookAheadDays: number; chunk: number }

function planEvenings(counted: CountedRoom, manner: Manner): PlanLedger {
  const ledger = emptyLedger(counted)
  for (let day = 0; day < counted.dayCount; day += 1) fillEvening(ledger, day, manner)
  return ledger
}

function fillEvening(ledger: PlanLedger, day: number, manner: Manner): void {
  const clutches = ledger.counted.room.clutches.map((_, clutch) => clutch)
  const open = new Set(clutches.filter((clutch) => ledger.counted.isOpen[clutch]![day]))
  while (open.size > 0) {
    let best = { clutch: -1, count: 0, worth: 0 }
    for (const clutch of open) {
      const candidate = worthOfEvening(ledger, { clutch, day }, manner)
      if (candidate.count === 0) open.delete(clutch)
      else if (candidate.worth > best.worth + 1e-12) best = candidate
    }
    if (best.clutch < 0) return
    addMove(ledger, { clutch: best.clutch, day, count: Math.min(best.count, manner.chunk) })
  }
}

/** Hazard per minute of the animals that could still be parted this evening, a set-up not yet made included. */
function worthOfEvening(
  ledger: PlanLedger,
  at: { clutch: number; day: number },
  manner: Manner,
): { clutch: number; count: number; worth: number } {
  const { counted } = ledger
  const count = roomFor(ledger, at.clutch, at.day)
  if (count === 0) return { clutch: at.clutch, count: 0, worth: 0 }
  const { hazard } = counted.room.clutches[at.clutch]!
  const together = ledger.left[at.clutch]![at.day]!
  const isStarted = ledger.moved[at.clutch]![at.day]! > 0
  const minutes = counted.minutesPerNymph + (isStarted ? 0 : counted.minutesPerClutch / count)
  const hazardNow =
    manner.lookAheadDays === 1
      ? marginalLossOfDay(hazard, at.day, together)
      : lossOfDays(hazard, { from: at.day, days: manner.lookAheadDays }, together).slope
  return { clutch: at.clutch, count, worth: hazardNow / minutes }
}
