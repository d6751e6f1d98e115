import { type PlanRoom, shareIn, type Take } from './room'
import { addArrival } from './scenario'

/**
 * Plays the weeks of one scenario with given starts and orders: what emerges comes into stock, starters are
 * taken out of it or bought, animals are fed in the order of what their hunger costs, the rest dies at its rate.
 * Feeding looks at today only, as hands do. O(days × (lines + accepted lines)).
 */
export type Played = {
  cost: number
  /** Animal-days without food, by class and day. */
  missed: Float64Array[]
  /** Items that died or were past use, by line and week. */
  wasted: Float64Array[]
  /** Items eaten, by line. */
  eaten: Float64Array
  startersBought: Float64Array
}

/** Supply by line and day that the given counts add up to in one scenario. */
export function supplyOf(room: PlanRoom, scenario: number, counts: readonly number[]): Float64Array[] {
  const supply = room.scenarios[scenario]!.supply.map((days) => Float64Array.from(days))
  counts.forEach((count, slot) => {
    const made = count * shareIn(room, slot, scenario)
    if (made > 0) addSlot(room, { scenario, slot, from: 0, to: made }, supply[room.slots[slot]!.line]!)
  })
  return supply
}

/** Adds to a line's days what raising a slot's count from one number to another gives. */
export function addSlot(
  room: PlanRoom,
  change: { scenario: number; slot: number; from: number; to: number },
  days: Float64Array,
): void {
  const slot = room.slots[change.slot]!
  const line = room.lines[slot.line]!
  if (line.kind === 'bought') {
    const count = (change.to - change.from) * line.packSize
    addArrival(days, line.curve, { day: slot.arrives, count })
    return
  }
  const more = (change.to - change.from) * room.scenarios[change.scenario]!.yieldEach[change.slot]!
  const until = Math.min(days.length, slot.day + line.curve.length, slot.day + line.discardAfterDays)
  for (let day = slot.day; day < until; day += 1) days[day]! += more * line.curve[day - slot.day]!
}

/** Starters needed in one scenario, by line and day. */
export function startersOf(room: PlanRoom, scenario: number, counts: readonly number[]): Float64Array[] {
  const needed = room.lines.map(() => new Float64Array(room.dayCount))
  counts.forEach((count, index) => {
    const slot = room.slots[index]!
    if (slot.kind === 'start')
      needed[slot.line]![slot.day]! += count * shareIn(room, index, scenario) * room.kept[slot.line]!.starters
  })
  return needed
}

export function playScenario(room: PlanRoom, scenario: number, counts: readonly number[]): Played {
  const { lines, classes, dayCount, kept, fed, weekCount } = room
  const supply = supplyOf(room, scenario, counts)
  const starters = startersOf(room, scenario, counts)
  const { need } = room.scenarios[scenario]!
  const stock = Float64Array.from(room.stock)
  const played: Played = {
    cost: 0,
    missed: classes.map(() => new Float64Array(dayCount)),
    wasted: lines.map(() => new Float64Array(weekCount)),
    eaten: new Float64Array(lines.length),
    startersBought: new Float64Array(lines.length),
  }
  for (let day = 0; day < dayCount; day += 1) {
    for (let line = 0; line < lines.length; line += 1) {
      const present = stock[line]! + supply[line]![day]!
      const wanted = starters[line]![day]!
      const taken = Math.min(present, wanted)
      stock[line] = present - taken
      played.startersBought[line]! += wanted - taken
      played.cost += (wanted - taken) * kept[line]!.starterCostPerItem
    }
    const animals = fed.map(({ index }) => need[index]![day]!)
    const eat = (place: number, { line, items, cost }: Take) => {
      const eaten = Math.min(stock[line]!, animals[place]! * items)
      stock[line]! -= eaten
      played.eaten[line]! += eaten
      animals[place]! -= eaten / items
      played.cost += (eaten / items) * cost
    }
    // Everyone's first choice before anyone's second: a substitute is somebody else's first choice.
    fed.forEach(({ takes }, place) => {
      for (const take of takes.slice(0, 1)) eat(place, take)
    })
    fed.forEach(({ index, shortageCost, takes }, place) => {
      for (const take of takes.slice(1)) eat(place, take)
      if (animals[place]! <= 1e-9) return
      played.missed[index]![day] = animals[place]!
      played.cost += animals[place]! * shortageCost
    })
    for (let line = 0; line < lines.length; line += 1) {
      const { survival, wasteCost, keepDays } = kept[line]!
      const lasting = Math.min(
        stock[line]! * survival,
        stillGood(room, { supply: supply[line]!, line, day, keepDays }),
      )
      const gone = stock[line]! - lasting
      stock[line] = lasting
      played.wasted[line]![Math.floor(day / 7)]! += gone
      played.cost += gone * wasteCost
    }
  }
  counts.forEach((count, slot) => {
    played.cost += count * shareIn(room, slot, scenario) * room.price[slot]! * shareInTime(room, slot)
  })
  return played
}

/** Most that can be good tomorrow: what has come within the days that it keeps. */
export function stillGood(
  room: PlanRoom,
  at: { supply: Float64Array; line: number; day: number; keepDays: number },
): number {
  if (!Number.isFinite(at.keepDays)) return Number.POSITIVE_INFINITY
  let sum = room.stockGood[at.line]![at.day + 1] ?? 0
  for (let day = Math.max(0, at.day + 2 - at.keepDays); day <= at.day; day += 1) sum += at.supply[day]!
  return sum
}

/** A start is charged with the share of its flies that can still be wanted before the plan ends. */
export function shareInTime(room: PlanRoom, slot: number): number {
  const { line, day } = room.slots[slot]!
  const kept = room.lines[line]!
  if (kept.kind !== 'culture') return 1
  const used = kept.curve.slice(0, Math.max(0, Math.min(room.dayCount - day, kept.discardAfterDays)))
  const all = kept.curve.slice(0, kept.discardAfterDays).reduce((sum, share) => sum + share, 0)
  return all > 0 ? used.reduce((sum, share) => sum + share, 0) / all : 1
}
