import type { FoodClass, FoodLine } from './case'
import type { Scenario } from './scenario'
import type { Slot } from './slot'

/**
 * What is decided later is decided knowing more. From given weeks on the scenarios therefore part into branches,
 * by how much they will have asked for by then, and each branch has starts and orders of its own. A plan whose
 * later weeks could not answer to anything would make up for that by starting too much now.
 */
export type Stage = { fromWeek: number; parts: number }

/** Branch of each scenario from a week on; `weight` is a branch's share of the scenarios. */
export type Branching = {
  slots: Slot[]
  /** By branch: 1 for each scenario that is of it. */
  members: readonly Uint8Array[]
}

/** By then the hatches of the days before have shown. */
const SEEN_AHEAD_DAYS = 10

type Branched = {
  lines: readonly FoodLine[]
  classes: readonly FoodClass[]
  slots: readonly Slot[]
  scenarios: readonly Scenario[]
}

export function branchOut(room: Branched, stages: readonly Stage[]): Branching {
  const members: Uint8Array[] = []
  const slots: Slot[] = []
  const everyone = room.scenarios.map((_, scenario) => scenario)
  let groups: number[][] = [everyone]
  let parted: number[] = []
  let stage = 0
  for (const slot of room.slots) {
    while (stage < stages.length && slot.week >= stages[stage]!.fromWeek) {
      const { fromWeek, parts } = stages[stage]!
      groups = groups.flatMap((group) => part(room, group, { until: fromWeek * 7 + SEEN_AHEAD_DAYS, parts }))
      parted = groups.map((group) => members.push(memberRow(room.scenarios.length, group)) - 1)
      stage += 1
    }
    if (parted.length === 0) slots.push(slot)
    else for (const branch of parted) slots.push({ ...slot, branch })
  }
  return { slots, members }
}

function memberRow(count: number, group: readonly number[]): Uint8Array {
  const row = new Uint8Array(count)
  for (const scenario of group) row[scenario] = 1
  return row
}

function part(room: Branched, group: readonly number[], { until, parts }: { until: number; parts: number }) {
  const asked = new Map(group.map((scenario) => [scenario, askedFor(room, scenario, until)]))
  const sorted = [...group].sort((a, b) => asked.get(a)! - asked.get(b)!)
  return Array.from({ length: parts }, (_, index) =>
    sorted.slice(
      Math.round((index * sorted.length) / parts),
      Math.round(((index + 1) * sorted.length) / parts),
    ),
  ).filter((each) => each.length > 0)
}

/** First-choice items wanted less those that come by themselves, in shares of what a culture or pack gives. */
function askedFor({ lines, classes, scenarios }: Branched, scenario: number, until: number): number {
  const { need, supply } = scenarios[scenario]!
  const sum = (days: Float64Array) => days.subarray(0, until).reduce((total, each) => total + each, 0)
  return lines.reduce((total, line, index) => {
    const each = line.kind === 'bought' ? line.packSize : line.yield.mean
    if (!(each > 0)) return total
    const wanted = classes.reduce((items, { accepts }, place) => {
      const first = accepts[0]
      return first?.line === line.id ? items + sum(need[place]!) * first.itemsPerAnimalDay : items
    }, 0)
    return total + (wanted - sum(supply[index]!)) / each
  }, 0)
}
