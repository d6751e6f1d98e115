import type { FoodClass, FoodLine } from './case'
import { foretell } from './foretell'
import type { Scenario } from './scenario'
import type { Slot } from './slot'

/**
 * What is decided later is decided knowing more. From a given week on a slot therefore has a rule in place of a number:
 * so many where little is asked for, so many where much is, and in between in proportion. How much is asked for is what
 * the days that the slot feeds want beyond what runs already, as far as it can be foretold from what will have been seen
 * by its morning. A plan whose later weeks could not answer to anything would make up for that by starting too much now;
 * one whose later weeks knew what is to come would start too little.
 */
export type Answering = {
  slots: Slot[]
  /** By part of a rule: how much of its count is made in each scenario, 0 to 1. */
  parts: readonly Float64Array[]
}

export type Answered = {
  lines: readonly FoodLine[]
  classes: readonly FoodClass[]
  slots: readonly Slot[]
  scenarios: readonly Scenario[]
  dayCount: number
}

/** O(later slots × scenarios × (classes + lines)²). */
export function answerLater(room: Answered, fromWeek: number): Answering {
  const parts: Float64Array[] = []
  const short = room.scenarios.map((scenario) => shortByLine(room, scenario))
  const slots = room.slots.flatMap((slot) => {
    if (slot.week < fromWeek) return [slot]
    const asked = foretell(wantedOf(room, slot, short), listSeen(room, slot, short))
    return rampParts(asked).map((part) => ({ ...slot, part: parts.push(part) - 1 }))
  })
  return { slots, parts }
}

/** First-choice items wanted less those that come by themselves, by line and day. */
function shortByLine({ lines, classes, dayCount }: Answered, { need, supply }: Scenario): Float64Array[] {
  return lines.map((line, index) => {
    const days = supply[index]!.map((items) => -items)
    classes.forEach(({ accepts: [first] }, place) => {
      if (first?.line !== line.id) return
      for (let day = 0; day < dayCount; day += 1) days[day]! += need[place]![day]! * first.itemsPerAnimalDay
    })
    return days
  })
}

/** By scenario: what is short on the days that a slot feeds, each by the share that it gives on it. */
function wantedOf({ lines }: Answered, slot: Slot, short: readonly Float64Array[][]): Float64Array {
  const shares = feedsOn(lines[slot.line]!)
  return Float64Array.from(short, (byLine) =>
    shares.reduce((sum, share, later) => sum + share * (byLine[slot.line]![slot.arrives + later] ?? 0), 0),
  )
}

const BOUGHT_DAYS = 7

function feedsOn(line: FoodLine): readonly number[] {
  if (line.kind === 'culture') return line.curve.slice(0, line.discardAfterDays)
  return Array.from({ length: Math.min(BOUGHT_DAYS, Math.ceil(line.keepDays)) }, () => 1)
}

/** By the morning of a slot: the animals of the day before, what came of each line, what its own was short of. */
function listSeen(
  { classes, lines, scenarios }: Answered,
  slot: Slot,
  short: readonly Float64Array[][],
): Float64Array[] {
  const eve = Math.max(0, slot.day - 1)
  const sum = (days: Float64Array) => days.subarray(0, slot.day).reduce((total, each) => total + each, 0)
  return [
    ...classes.map((_, place) => Float64Array.from(scenarios, ({ need }) => need[place]![eve]!)),
    ...lines.map((_, line) => Float64Array.from(scenarios, ({ supply }) => sum(supply[line]!))),
    Float64Array.from(short, (byLine) => sum(byLine[slot.line]!)),
  ]
}

/** Where among the scenarios a rule has its numbers: where least is asked for, in the middle, where most is. */
const KNOTS = [0, 0.5, 1]

/** Between two knots the numbers of both count, the nearer one more; in each scenario the parts add up to one. */
function rampParts(asked: Float64Array): Float64Array[] {
  const sorted = Float64Array.from(asked).sort()
  const knots = KNOTS.map((share) => sorted[Math.round(share * (sorted.length - 1))]!)
  const parts = knots.map(() => new Float64Array(asked.length))
  asked.forEach((value, scenario) => {
    const above = knots.findIndex((knot) => knot >= value)
    const [low, high] = [knots[above - 1] ?? value, knots[above]!]
    const share = above === 0 ? 1 : (value - low) / (high - low)
    parts[above]![scenario] = share
    if (above > 0) parts[above - 1]![scenario] = 1 - share
  })
  return parts
}
