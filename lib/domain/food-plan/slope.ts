import { type Flat, flatten } from './flat'
import { shareInTime, startersOf, supplyOf } from './play'
import { isIn, type PlanRoom, shareOf } from './room'

/** Mean cost of counts over some scenarios, and by how much it changes with one more in each slot. */
export type Sloped = { cost: number; slope: Float64Array; effort: number }

/**
 * Plays every scenario forward as `playScenario` does and then backward: what one more item in stock would have
 * saved, day by day, and so what one more culture or pack would have. Counts may be fractions. Each step of a day
 * takes the lesser of what is there and what is wanted, so the way back is exact wherever the two differ.
 * O(scenarios × (days × (lines + accepted lines) + slots × days a culture gives)).
 */
export function openSlopes(
  room: PlanRoom,
): (counts: readonly number[], scenarios: readonly number[]) => Sloped {
  const flat = flatten(room)
  const track = newTrack(flat)
  const prices = room.price.map((price, slot) => price * shareInTime(room, slot) * shareOf(room, slot))
  return (counts, scenarios) => {
    const share = 1 / scenarios.length
    const slope = Float64Array.from(prices)
    let cost = prices.reduce((sum, price, slot) => sum + price * counts[slot]!, 0)
    for (const scenario of scenarios) {
      const supply = supplyOf(room, scenario, counts)
      const starters = startersOf(room, scenario, counts)
      cost += share * playForward(flat, { supply, scenario, starters, track })
      playBackward(flat, track)
      addSlopes(room, { scenario, track, flat, slope, share })
    }
    return { cost, slope, effort: 3 * flat.dayCount * scenarios.length }
  }
}

/** The mean cost alone, for a third of the work. */
export function openCosts(room: PlanRoom): (counts: readonly number[]) => number {
  const flat = flatten(room)
  const track = newTrack(flat)
  const prices = room.price.map((price, slot) => price * shareInTime(room, slot) * shareOf(room, slot))
  return (counts) => {
    let cost = prices.reduce((sum, price, slot) => sum + price * counts[slot]!, 0)
    for (let scenario = 0; scenario < room.scenarios.length; scenario += 1) {
      const supply = supplyOf(room, scenario, counts)
      const starters = startersOf(room, scenario, counts)
      cost += playForward(flat, { supply, scenario, starters, track }) / room.scenarios.length
    }
    return cost
  }
}

/** What happened on the way forward, and the worth of one more on the way back. */
type Track = {
  stock: Float64Array
  unfed: Float64Array
  /** By day and take: was all eaten that there was? Nobody hungry came to it: 2. */
  took: Uint8Array
  /** By day and line: starters were missing; what lasts was cut by its keeping time. */
  lacked: Uint8Array
  cut: Uint8Array
  /** By day and line: cost of one more item coming on that day, and of one more taken, which is its worth. */
  comes: Float64Array
  wants: Float64Array
}

function newTrack({ dayCount, lineCount, classCount, takeStarts }: Flat): Track {
  const cells = dayCount * lineCount
  return {
    stock: new Float64Array(lineCount),
    unfed: new Float64Array(classCount),
    took: new Uint8Array(dayCount * takeStarts[classCount]!),
    lacked: new Uint8Array(cells),
    cut: new Uint8Array(cells),
    comes: new Float64Array(cells),
    wants: new Float64Array(cells),
  }
}

type Forward = {
  supply: readonly Float64Array[]
  scenario: number
  starters: readonly Float64Array[]
  track: Track
}

const ALL = 1
const NOBODY = 2

function playForward(flat: Flat, { supply, scenario, starters, track }: Forward): number {
  const { stock } = track
  stock.set(flat.stock)
  let cost = 0
  for (let day = 0; day < flat.dayCount; day += 1) {
    for (let line = 0; line < flat.lineCount; line += 1) {
      const present = stock[line]! + supply[line]![day]!
      const wanted = starters[line]![day]!
      const isLacking = wanted > present
      track.lacked[day * flat.lineCount + line] = isLacking ? 1 : 0
      if (isLacking) cost += (wanted - present) * flat.starterCost[line]!
      stock[line] = isLacking ? 0 : present - wanted
    }
    cost += feed(flat, { day, need: flat.need[scenario]!, track })
    cost += keep(flat, { day, supply, track })
  }
  return cost
}

function feed(flat: Flat, { day, need, track }: { day: number; need: Float64Array; track: Track }): number {
  const { classCount, takeStarts, takeLines, takeItems } = flat
  const { stock, unfed, took } = track
  const at = day * takeStarts[classCount]!
  let cost = 0
  for (let place = 0; place < classCount; place += 1) {
    unfed[place] = need[place * flat.dayCount + day]!
    const take = takeStarts[place]!
    if (take < takeStarts[place + 1]!) eat(place, take)
  }
  for (let place = 0; place < classCount; place += 1) {
    for (let take = takeStarts[place]! + 1; take < takeStarts[place + 1]!; take += 1) eat(place, take)
    if (unfed[place]! > 1e-9) cost += unfed[place]! * flat.shortage[place]!
  }
  return cost

  function eat(place: number, take: number): void {
    const animals = unfed[place]!
    if (!(animals > 1e-9)) {
      took[at + take] = NOBODY
      return
    }
    const line = takeLines[take]!
    const wanted = animals * takeItems[take]!
    const isAll = stock[line]! < wanted
    took[at + take] = isAll ? ALL : 0
    unfed[place] = isAll ? animals - stock[line]! / takeItems[take]! : 0
    stock[line] = isAll ? 0 : stock[line]! - wanted
  }
}

function keep(
  flat: Flat,
  { day, supply, track }: { day: number; supply: readonly Float64Array[]; track: Track },
): number {
  let cost = 0
  for (let line = 0; line < flat.lineCount; line += 1) {
    const present = track.stock[line]!
    let lasting = present * flat.survival[line]!
    const keepDays = flat.keepDays[line]!
    let isCut = 0
    if (keepDays < flat.dayCount) {
      let good = flat.stockGood[line]![day + 1] ?? 0
      for (let back = Math.max(0, day + 2 - keepDays); back <= day; back += 1) good += supply[line]![back]!
      if (good < lasting) {
        lasting = good
        isCut = 1
      }
    }
    track.cut[day * flat.lineCount + line] = isCut
    cost += (present - lasting) * flat.waste[line]!
    track.stock[line] = lasting
  }
  return cost
}

/** Fills `comes` and `wants`; `stock` holds the cost of one more item, from the day's end back to its beginning. */
function playBackward(flat: Flat, track: Track): void {
  const { stock, comes } = track
  stock.fill(0)
  comes.fill(0)
  for (let day = flat.dayCount - 1; day >= 0; day -= 1) {
    for (let line = 0; line < flat.lineCount; line += 1) {
      const waste = flat.waste[line]!
      const tomorrow = stock[line]!
      if (track.cut[day * flat.lineCount + line] === 0) {
        stock[line] = waste * (1 - flat.survival[line]!) + flat.survival[line]! * tomorrow
        continue
      }
      for (let back = Math.max(0, day + 2 - flat.keepDays[line]!); back <= day; back += 1)
        comes[back * flat.lineCount + line]! += tomorrow - waste
      stock[line] = waste
    }
    unfeed(flat, track, day)
    for (let line = 0; line < flat.lineCount; line += 1) {
      const cell = day * flat.lineCount + line
      const more = track.lacked[cell] === 1 ? -flat.starterCost[line]! : stock[line]!
      track.wants[cell] = -more
      stock[line] = more
      comes[cell]! += more
    }
  }
}

/** The steps of feeding, last first; `unfed` holds the cost of one more animal that is still hungry. */
function unfeed(flat: Flat, track: Track, day: number): void {
  const { classCount, takeStarts } = flat
  const { unfed } = track
  for (let place = classCount - 1; place >= 0; place -= 1) {
    unfed[place] = flat.shortage[place]!
    for (let take = takeStarts[place + 1]! - 1; take > takeStarts[place]!; take -= 1)
      uneat(flat, track, { day, place, take })
  }
  for (let place = classCount - 1; place >= 0; place -= 1) {
    const take = takeStarts[place]!
    if (take < takeStarts[place + 1]!) uneat(flat, track, { day, place, take })
  }
}

function uneat(flat: Flat, track: Track, at: { day: number; place: number; take: number }): void {
  const { stock, unfed } = track
  const took = track.took[at.day * flat.takeStarts[flat.classCount]! + at.take]
  const line = flat.takeLines[at.take]!
  const items = flat.takeItems[at.take]!
  if (took === 0) unfed[at.place] = -items * stock[line]!
  // One more hungry animal costs what it costs further on; one more item spares a part of one.
  if (took === ALL) stock[line] = -unfed[at.place]! / items
}

type Adding = { scenario: number; track: Track; flat: Flat; slope: Float64Array; share: number }

function addSlopes(room: PlanRoom, { scenario, track, flat, slope, share }: Adding): void {
  const { lineCount, dayCount } = flat
  const { comes, wants } = track
  const yields = room.scenarios[scenario]!.yieldEach
  for (let index = 0; index < slope.length; index += 1) {
    if (!isIn(room, index, scenario)) continue
    const slot = room.slots[index]!
    const line = room.lines[slot.line]!
    let saved = 0
    if (line.kind === 'culture') {
      const until = Math.min(dayCount, slot.day + Math.min(line.curve.length, line.discardAfterDays))
      for (let day = slot.day; day < until; day += 1)
        saved += comes[day * lineCount + slot.line]! * line.curve[day - slot.day]!
      saved *= yields[index]!
      saved += room.kept[slot.line]!.starters * wants[slot.day * lineCount + slot.line]!
    } else {
      const shares = line.curve ?? [1]
      for (let later = 0; later < shares.length && slot.arrives + later < dayCount; later += 1)
        saved += comes[(slot.arrives + later) * lineCount + slot.line]! * shares[later]!
      saved *= line.packSize
    }
    slope[index]! += share * saved
  }
}
