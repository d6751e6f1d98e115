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
  let truth = trueRoom(laid, { room, day, cultures: () => MEANT })
  let walked = descend(truth, { steps: FORESIGHT_STEPS })
  for (let pass = 0; pass < PASSES; pass += 1) {
    const before = walked
    truth = trueRoom(laid, { room, day, cultures: (slot) => Math.max(1, Math.round(before[slot]!)) })
    walked = descend(truth, { start: walked, steps: FORESIGHT_STEPS })
  }
  return firstDecisions(truth, settleWhole(truth, walked, { wholeDays: 7, mayGoOn: () => true }).counts)
}

/** Cultures of one start count as the mean of as many: first of these, then of as many as were found best. */
const MEANT = 6
const PASSES = 2

type Truth = { room: Room; day: number; cultures: (slot: number) => number }

function trueRoom(laid: PlanRoom, { room, day, cultures }: Truth): PlanRoom {
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
  const yieldEach = Float64Array.from(laid.slots, (slot, index) => {
    if (slot.kind === 'order') return 0
    const count = cultures(index)
    const totals = Array.from({ length: count }, (_, culture) =>
      season.yieldOf(slot.line, day + slot.day, culture),
    )
    return totals.reduce((sum, { total }) => sum + total, 0) / count
  })
  return { ...laid, scenarios: [{ need, supply, yieldEach }] }
}
