import { addUp, shareBefore } from '@/lib/domain/culture/running'
import { descend } from '@/lib/domain/food-plan/descent'
import { decideNear } from '@/lib/domain/food-plan/plan'
import { listDecisions } from '@/lib/domain/food-plan/plan-week'
import type { PlanRoom } from '@/lib/domain/food-plan/room'
import { layOutRoom } from '@/lib/domain/food-plan/room'
import { settleWhole } from '@/lib/domain/food-plan/settle'
import type { Decision, Room, SeasonPolicy } from './season-play'

/** The plan: its decisions of the first day are carried out, and next week everything is planned anew. */
export const planPolicy: SeasonPolicy = (seen) => {
  const { room, counts } = decideNear(seen)
  return firstDecisions(room, counts)
}

function firstDecisions(room: PlanRoom, counts: readonly number[]): Decision {
  const first = listDecisions(room, counts).filter(({ slot }) => slot.day === 0)
  return room.lines.map((_, line) =>
    first.reduce((sum, { slot, count }) => sum + (slot.line === line ? count : 0), 0),
  )
}

const FORESIGHT_STEPS = 150

/** Nobody can do this: the plan with one scenario, the truth, every hatch, culture and crash of it. */
export const foresightPolicy: SeasonPolicy = (seen, { day, room }) => {
  const laid = layOutRoom(seen, { scenarios: 1, seed: 'truth' })
  const truth = trueRoom(laid, room, day)
  const walked = descend(truth, { steps: FORESIGHT_STEPS })
  return firstDecisions(truth, settleWhole(truth, walked, { wholeDays: 7, mayGoOn: () => true }).counts)
}

/** Cultures of one start count as the mean of as many. */
const MEANT = 6

function trueRoom(laid: PlanRoom, room: Room, day: number): PlanRoom {
  const { season, timeline } = room
  const need = laid.classes.map((_, index) =>
    Float64Array.from({ length: laid.dayCount }, (__, ahead) => timeline.need[day + ahead]?.[index] ?? 0),
  )
  const supply = laid.lines.map((line, index) => {
    const days = new Float64Array(laid.dayCount)
    if (line.kind === 'bought') return laid.scenarios[0]!.supply[index]!
    const added = addUp(line.curve)
    for (const jar of room.jars.filter((each) => each.line === index))
      for (
        let ahead = 0;
        ahead < laid.dayCount && day + ahead - jar.day < line.discardAfterDays;
        ahead += 1
      ) {
        const age = day + ahead - jar.day - jar.lateDays
        days[ahead]! += jar.total * (shareBefore(added, age + 1) - shareBefore(added, age))
      }
    return days
  })
  const yieldEach = Float64Array.from(laid.slots, (slot) => {
    if (slot.kind === 'order') return 0
    const totals = Array.from({ length: MEANT }, (_, culture) =>
      season.yieldOf(slot.line, day + slot.day, culture),
    )
    return totals.reduce((sum, { total }) => sum + total, 0) / MEANT
  })
  return { ...laid, scenarios: [{ need, supply, yieldEach }] }
}
