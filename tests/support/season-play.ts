import { addUp, shareBefore } from '@/lib/domain/culture/running'
import type { FoodCase } from '@/lib/domain/food-plan/case'
import { dateOf, SEASON, SEASON_DAYS, type Season } from './season-room'
import { followAnimals, type Timeline } from './season-timeline'
import { see } from './season-view'

/** What a policy does on a start day: cultures or packs by line. */
export type Decision = readonly number[]
/** A policy sees what the records of a room would say, never the truth. */
export type SeasonPolicy = (seen: FoodCase, at: PolicyAt) => Decision
/** The room itself is for the one that knows the future; the others look at the case only. */
export type PolicyAt = { day: number; season: Season; room: Room }

export type SeasonResult = {
  needed: number
  missed: number
  wasted: number
  eaten: number
  starts: number
  score: number
}

export type Jar = {
  line: number
  day: number
  total: number
  lateDays: number
  harvested: { on: string; count: number }[]
}
export type Pack = { line: number; arrives: number; left: number }

const FIRST_DAY = -42

/**
 * Plays one season in a closed loop: every Monday the policy is shown the records and decides; every day flies
 * emerge, starters are taken or bought, animals are fed first choice first, the rest dies. Misses and waste are
 * counted over the same days, and what is in stock on the last of them counts as wasted, less what was there on
 * the first.
 */
export function playSeason(season: Season, policy: SeasonPolicy): SeasonResult {
  const room = openRoom(season)
  const result: SeasonResult = { needed: 0, missed: 0, wasted: 0, eaten: 0, starts: 0, score: 0 }
  for (let day = 0; day < SEASON_DAYS; day += 1) {
    const isCounted = day >= SEASON.burnInDays
    if (day === SEASON.burnInDays) result.wasted -= stockTotal(room)
    const decision = day % 7 === 0 ? policy(see(room, day), { day, season, room }) : null
    emerge(room, day)
    if (decision) {
      const starts = begin(room, day, decision)
      takeStarters(room, decision)
      if (isCounted) result.starts += starts
    }
    const fed = feed(room, day)
    const gone = die(room, day)
    if (!isCounted) continue
    result.needed += fed.needed
    result.missed += fed.missed
    result.eaten += fed.eaten
    result.wasted += gone
  }
  result.wasted += stockTotal(room)
  result.score = (100 * result.missed) / result.needed + (2 * result.wasted) / result.eaten
  return result
}

export type Room = {
  season: Season
  timeline: Timeline
  stock: number[]
  jars: Jar[]
  packs: Pack[]
}

function stockTotal(room: Room): number {
  return (
    room.stock.reduce((sum, each) => sum + each, 0) +
    room.packs.reduce((sum, { left, arrives }) => sum + (arrives < 0 ? 0 : left), 0)
  )
}

/** Animals that have hatched before the first day, and cultures as a careful keeper would have them. */
function openRoom(season: Season): Room {
  const room: Room = {
    season,
    timeline: followAnimals(season),
    stock: season.lines.map(() => 0),
    jars: [],
    packs: [],
  }
  const [melanogaster, hydei, bottle] = firstChoiceNeed(room)
  for (let day = FIRST_DAY; day < 0; day += 7) {
    begin(room, day, [Math.round((melanogaster! * 7 * 1.3) / 400), Math.round((hydei! * 7 * 1.3) / 250), 0])
  }
  room.stock = [melanogaster! * 2, hydei! * 2, 0]
  room.packs = [{ line: 2, arrives: 0, left: Math.ceil((bottle! * 8) / 100) * 100 }]
  return room
}

function firstChoiceNeed(room: Room): number[] {
  const items = room.season.lines.map(() => 0)
  room.timeline.need[0]!.forEach((animals, index) => {
    const first = room.season.classes[index]!.accepts[0]!
    items[room.season.lines.findIndex(({ id }) => id === first.line)]! += animals * first.itemsPerAnimalDay
  })
  return items
}

const added = new Map<readonly number[], Float64Array>()
function addedUp(curve: readonly number[]): Float64Array {
  const known = added.get(curve) ?? addUp(curve)
  added.set(curve, known)
  return known
}

function emerge(room: Room, day: number): void {
  for (const jar of room.jars) {
    const line = room.season.lines[jar.line]!
    const age = day - jar.day
    if (line.kind !== 'culture' || age < 0 || age >= line.discardAfterDays) continue
    const came =
      jar.total *
      (shareBefore(addedUp(line.curve), age + 1 - jar.lateDays) -
        shareBefore(addedUp(line.curve), age - jar.lateDays))
    if (came < 0.5) continue
    room.stock[jar.line]! += came
    jar.harvested.push({ on: dateOf(day), count: Math.round(came) })
  }
}

function begin(room: Room, day: number, decision: Decision): number {
  let starts = 0
  decision.forEach((count, index) => {
    const line = room.season.lines[index]!
    if (line.kind === 'bought') {
      if (count > 0)
        room.packs.push({ line: index, arrives: day + line.leadDays, left: count * line.packSize })
      return
    }
    starts += count
    for (let culture = 0; culture < count; culture += 1)
      room.jars.push({ line: index, day, harvested: [], ...room.season.yieldOf(index, day, culture) })
  })
  return starts
}

/** Out of the harvest; what is missing is bought. */
function takeStarters(room: Room, decision: Decision): void {
  decision.forEach((count, index) => {
    const line = room.season.lines[index]!
    if (line.kind === 'culture') room.stock[index] = Math.max(0, room.stock[index]! - count * line.starters)
  })
}

function feed(room: Room, day: number) {
  const { season } = room
  let [needed, missed, eaten] = [0, 0, 0]
  room.timeline.need[day]!.forEach((wanted, index) => {
    needed += wanted
    let animals = wanted
    season.classes[index]!.accepts.forEach(({ line: id, itemsPerAnimalDay }, choice) => {
      const line = season.lines.findIndex((each) => each.id === id)
      const took = take(room, { line, day, items: animals * itemsPerAnimalDay })
      animals -= took / itemsPerAnimalDay
      if (choice === 0) eaten += took
    })
    missed += animals
  })
  return { needed, missed, eaten }
}

/** Oldest packs first. */
function take(room: Room, { line, day, items }: { line: number; day: number; items: number }): number {
  const loose = Math.min(room.stock[line]!, items)
  room.stock[line]! -= loose
  let taken = loose
  for (const pack of room.packs) {
    if (pack.line !== line || pack.arrives > day) continue
    const from = Math.min(pack.left, items - taken)
    pack.left -= from
    taken += from
  }
  return taken
}

function die(room: Room, day: number): number {
  let gone = 0
  room.stock.forEach((count, line) => {
    const dead = count * (room.season.lines[line]!.dailyDeathRate ?? 0)
    gone += dead
    room.stock[line]! -= dead
  })
  room.packs = room.packs.filter((pack) => {
    const line = room.season.lines[pack.line]!
    if (line.kind !== 'bought' || pack.arrives > day) return true
    const dead = day + 1 - pack.arrives >= line.keepDays ? pack.left : pack.left * (line.dailyDeathRate ?? 0)
    pack.left -= dead
    gone += dead
    return pack.left > 0.01
  })
  return gone
}
