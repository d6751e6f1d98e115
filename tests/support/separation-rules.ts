import { addMove, emptyLedger, type PlanLedger, roomFor, timeFor } from '@/lib/domain/separation/plan-ledger'
import { countRoom } from '@/lib/domain/separation/plan-room'
import type { SeededRoom } from './separation-rooms'

/** How people part their clutches without a plan; each takes all that fits an evening. */
export const RULES = {
  'oldest first': (seeded: SeededRoom) =>
    planInOrder(seeded, (clutch) => [seeded.hatchedOn[clutch]!, clutch]),
  'largest first': (seeded: SeededRoom) =>
    planInOrder(seeded, (clutch, day, ledger) => [-(ledger.left[clutch]![day] ?? 0), clutch]),
  'equal shares': planEqualShares,
}

export type RuleName = keyof typeof RULES

type Order = (clutch: number, day: number, ledger: PlanLedger) => [string | number, number]

function planInOrder(seeded: SeededRoom, order: Order): PlanLedger {
  const counted = countRoom(seeded.room)
  const ledger = emptyLedger(counted)
  for (let day = 0; day < counted.dayCount; day += 1) {
    const queue = seeded.room.clutches
      .map((_, clutch) => ({ clutch, key: order(clutch, day, ledger) }))
      .sort((one, other) =>
        one.key[0] < other.key[0] ? -1 : one.key[0] > other.key[0] ? 1 : one.key[1] - other.key[1],
      )
    for (const { clutch } of queue) addMove(ledger, { clutch, day, count: Infinity })
  }
  return ledger
}

/** A set-up for fewer than this is not made, or equal shares would be spent on set-ups alone. */
const LEAST_SHARE = 12

/** As many clutches as get at least a dozen each, those with the fewest parted so far first, equally many of each. */
function planEqualShares(seeded: SeededRoom): PlanLedger {
  const counted = countRoom(seeded.room)
  const ledger = emptyLedger(counted)
  const parted = seeded.room.clutches.map(() => 0)
  for (let day = 0; day < counted.dayCount; day += 1) {
    const minutes = ledger.minutesLeft[day]!
    const perClutch = counted.minutesPerClutch + LEAST_SHARE * counted.minutesPerNymph
    const open = seeded.room.clutches
      .map((_, clutch) => clutch)
      .filter((clutch) => roomFor(ledger, clutch, day) > 0)
      .sort((one, other) => parted[one]! - parted[other]! || one - other)
      .slice(0, Math.max(1, Math.floor(minutes / perClutch)))
    const share = Math.max(
      1,
      Math.floor((minutes / Math.max(1, open.length) - counted.minutesPerClutch) / counted.minutesPerNymph),
    )
    for (const clutch of open) parted[clutch]! += addMove(ledger, { clutch, day, count: share })
    // What is left over goes on in the same clutches.
    for (const clutch of open)
      if (timeFor(ledger, clutch, day) > 0)
        parted[clutch]! += addMove(ledger, { clutch, day, count: Infinity })
  }
  return ledger
}
