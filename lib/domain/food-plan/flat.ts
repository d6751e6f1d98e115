import { shareInTime } from './play'
import { type PlanRoom, shareIn, shareOf } from './room'

/**
 * A room's figures on flat arrays, since a plan asks for a play some thousand times. Cells are by day and line,
 * `day * lineCount + line`; needs by day and class in feeding order, `day * classCount + place`.
 */
export type Flat = {
  dayCount: number
  lineCount: number
  classCount: number
  shortage: Float64Array
  /** Everyone's first choice before anyone's second, dearest class first: who takes, of what, how many. */
  takeCount: number
  takePlace: Int32Array
  takeLine: Int32Array
  takeItems: Float64Array
  takeCost: Float64Array
  survival: Float64Array
  waste: Float64Array
  /** 0 where nothing but deaths ends an item. */
  keepDays: Int32Array
  starterCost: Float64Array
  stock: Float64Array
  stockGood: readonly Float64Array[]
  scenarios: FlatScenario[]
  /** By slot: mean price of one, in all scenarios. */
  prices: Float64Array
}

export type FlatScenario = {
  need: Float64Array
  /** What comes by itself. */
  supply: Float64Array
  gifts: SlotGift[]
}

/** What one culture or pack of the slots of a day and line gives in a scenario: `share[i] * each` on day `from + i`. */
export type SlotGift = {
  slots: Int32Array
  /** How much of each slot's count is made. */
  parts: Float64Array
  line: number
  from: number
  until: number
  share: Float64Array
  each: number
  /** Cell of its start, and starters that one takes from there. */
  startCell: number
  starters: number
}

/** Before this day's end comes what a room is laid out for; O(scenarios × (days × lines + slots)). */
export function flatten(room: PlanRoom): Flat {
  const { fed, kept, dayCount } = room
  const takes = [
    ...fed.flatMap((each, place) => each.takes.slice(0, 1).map((take) => ({ place, ...take }))),
    ...fed.flatMap((each, place) => each.takes.slice(1).map((take) => ({ place, ...take }))),
  ]
  return {
    dayCount,
    lineCount: room.lines.length,
    classCount: fed.length,
    shortage: Float64Array.from(fed, ({ shortageCost }) => shortageCost),
    takeCount: takes.length,
    takePlace: Int32Array.from(takes, ({ place }) => place),
    takeLine: Int32Array.from(takes, ({ line }) => line),
    takeItems: Float64Array.from(takes, ({ items }) => items),
    takeCost: Float64Array.from(takes, ({ cost }) => cost),
    survival: Float64Array.from(kept, ({ survival }) => survival),
    waste: Float64Array.from(kept, ({ wasteCost }) => wasteCost),
    keepDays: Int32Array.from(kept, ({ keepDays }) => (keepDays < dayCount ? keepDays : 0)),
    starterCost: Float64Array.from(kept, ({ starterCostPerItem }) => starterCostPerItem),
    stock: Float64Array.from(room.stock),
    stockGood: room.stockGood,
    scenarios: flattenScenarios(room),
    prices: Float64Array.from(
      room.price,
      (price, slot) => price * shareInTime(room, slot) * shareOf(room, slot),
    ),
  }
}

function flattenScenarios(room: PlanRoom): FlatScenario[] {
  const { dayCount, lines, fed } = room
  const shares = lines.map((line) => {
    if (line.kind === 'bought') return Float64Array.from(line.curve ?? [1], (share) => share * line.packSize)
    return Float64Array.from(line.curve.slice(0, line.discardAfterDays))
  })
  const together = slotsTogether(room)
  return room.scenarios.map(({ need, supply, yieldEach }, scenario) => {
    const flatNeed = new Float64Array(dayCount * fed.length)
    fed.forEach(({ index }, place) => {
      for (let day = 0; day < dayCount; day += 1) flatNeed[day * fed.length + place] = need[index]![day]!
    })
    const flatSupply = new Float64Array(dayCount * lines.length)
    lines.forEach((_, line) => {
      for (let day = 0; day < dayCount; day += 1) flatSupply[day * lines.length + line] = supply[line]![day]!
    })
    const gifts = together.flatMap((all): SlotGift[] => {
      const slots = all.filter((slot) => shareIn(room, slot, scenario) > 0)
      const first = slots[0]
      if (first === undefined) return []
      const { line, day, arrives, kind } = room.slots[first]!
      const share = shares[line]!
      const from = kind === 'start' ? day : arrives
      return [
        {
          slots: Int32Array.from(slots),
          parts: Float64Array.from(slots, (slot) => shareIn(room, slot, scenario)),
          line,
          from,
          until: Math.min(dayCount, from + share.length),
          share,
          each: kind === 'start' ? yieldEach[first]! : 1,
          startCell: day * lines.length + line,
          starters: kind === 'start' ? room.kept[line]!.starters : 0,
        },
      ]
    })
    return { need: flatNeed, supply: flatSupply, gifts }
  })
}

/** Slots of one line and day. */
function slotsTogether({ slots }: PlanRoom): number[][] {
  const groups = new Map<string, number[]>()
  slots.forEach(({ line, day }, slot) => {
    const key = `${line}/${day}`
    const group = groups.get(key) ?? []
    groups.set(key, group)
    group.push(slot)
  })
  return [...groups.values()]
}
