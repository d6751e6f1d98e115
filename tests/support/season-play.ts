import { addUp, shareBefore } from '@/lib/domain/culture/running'
import type { CaseCulture, Delivery, DemandRow, FoodCase, FutureHatch } from '@/lib/domain/food-plan/case'
import {
  dailySurvival,
  dateOf,
  SEASON,
  SEASON_DAYS,
  type Season,
  type SeasonHatch,
  sharesAt,
} from './season-room'

/** What a policy does on a start day: cultures or packs by line. */
export type Decision = readonly number[]
/** A policy sees what the records of a room would say, never the truth. */
export type SeasonPolicy = (
  seen: FoodCase,
  at: { day: number; season: Season },
) => Decision | Promise<Decision>

export type SeasonResult = {
  needed: number
  missed: number
  wasted: number
  eaten: number
  starts: number
  score: number
}

type Jar = {
  line: number
  day: number
  total: number
  lateDays: number
  harvested: { on: string; count: number }[]
}
type Pack = { line: number; arrives: number; left: number }
type Clutch = { hatch: SeasonHatch; age: number; count: number }

const FIRST_DAY = -42

/**
 * Plays one season in a closed loop: every Monday the policy is shown the records and decides; every day flies
 * emerge, starters are taken or bought, animals are fed first choice first, the rest dies. Misses and waste are
 * counted over the same days, and what is in stock on the last of them counts as wasted, less what was there on
 * the first.
 */
export async function playSeason(season: Season, policy: SeasonPolicy): Promise<SeasonResult> {
  const room = openRoom(season)
  const result: SeasonResult = { needed: 0, missed: 0, wasted: 0, eaten: 0, starts: 0, score: 0 }
  for (let day = 0; day < SEASON_DAYS; day += 1) {
    const isCounted = day >= SEASON.burnInDays
    if (day === SEASON.burnInDays) result.wasted -= stockTotal(room)
    const decision = day % 7 === 0 ? await policy(see(room, day), { day, season }) : null
    emerge(room, day)
    if (decision) {
      const starts = begin(room, day, decision)
      takeStarters(room, decision)
      if (isCounted) result.starts += starts
    }
    const fed = feed(room, day)
    const gone = die(room, day)
    grow(room, day)
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

type Room = {
  season: Season
  stock: number[]
  jars: Jar[]
  packs: Pack[]
  clutches: Clutch[]
  pending: SeasonHatch[]
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
    stock: season.lines.map(() => 0),
    jars: [],
    packs: [],
    clutches: [],
    pending: [...season.hatches],
  }
  for (let day = -160; day < 0; day += 1) {
    hatchAndAge(room, day)
  }
  const [melanogaster, hydei, bottle] = firstChoiceNeed(room)
  for (let day = FIRST_DAY; day < 0; day += 7) {
    begin(room, day, [Math.round((melanogaster! * 7 * 1.3) / 400), Math.round((hydei! * 7 * 1.3) / 250), 0])
  }
  room.stock = [melanogaster! * 2, hydei! * 2, 0]
  room.packs = [{ line: 2, arrives: 0, left: Math.ceil((bottle! * 8) / 100) * 100 }]
  return room
}

function needNow(room: Room): number[] {
  const need = room.season.classes.map(() => 0)
  for (const { count, age } of room.clutches)
    sharesAt(age).forEach((share, index) => {
      need[index]! += count * share
    })
  return need
}

function firstChoiceNeed(room: Room): number[] {
  const items = room.season.lines.map(() => 0)
  needNow(room).forEach((animals, index) => {
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
  needNow(room).forEach((wanted, index) => {
    needed += wanted
    let animals = wanted
    season.classes[index]!.accepts.forEach(({ line: id, itemsPerAnimalDay }, choice) => {
      const line = season.lines.findIndex((each) => each.id === id)
      const took = take(room, { line, day, items: animals * itemsPerAnimalDay })
      animals -= took / itemsPerAnimalDay
      if (choice === 0) eaten += took
    })
    missed += animals
    const dbg = (globalThis as any).DEBUGX; if (dbg && day >= SEASON.burnInDays) dbg.missed[index] = (dbg.missed[index] ?? 0) + animals
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
    const dbg = (globalThis as any).DEBUGX; if (dbg && day >= SEASON.burnInDays) dbg.wasted[line] = (dbg.wasted[line] ?? 0) + dead
  })
  room.packs = room.packs.filter((pack) => {
    const line = room.season.lines[pack.line]!
    if (line.kind !== 'bought' || pack.arrives > day) return true
    const dead = day + 1 - pack.arrives >= line.keepDays ? pack.left : pack.left * (line.dailyDeathRate ?? 0)
    pack.left -= dead
    gone += dead
    const dbg = (globalThis as any).DEBUGX; if (dbg && day >= SEASON.burnInDays) dbg.wasted[pack.line] = (dbg.wasted[pack.line] ?? 0) + dead
    return pack.left > 0.01
  })
  return gone
}

function grow(room: Room, day: number): void {
  hatchAndAge(room, day)
}

function hatchAndAge(room: Room, day: number): void {
  const rate = room.season.saleRate(day)
  for (const clutch of room.clutches) {
    clutch.count *= dailySurvival(clutch.age, rate, clutch.hatch.hazard)
    clutch.age += 1 / clutch.hatch.growth
  }
  room.clutches = room.clutches.filter(({ count }) => count > 0.2)
  room.pending = room.pending.filter((hatch) => {
    if (hatch.hatchedOn === null || hatch.hatchedOn > day + 1) return true
    room.clutches.push({ hatch, age: 0, count: hatch.count })
    return false
  })
}

/** What the records say on a morning. */
function see(room: Room, day: number): FoodCase {
  const { season } = room
  const days = SEASON.horizonWeeks * 7
  const cultures: CaseCulture[] = room.jars.flatMap((jar): CaseCulture[] => {
    const line = season.lines[jar.line]!
    if (line.kind !== 'culture' || day - jar.day >= line.discardAfterDays) return []
    return [{ line: line.id, startedOn: dateOf(jar.day), harvested: watched(jar, day) }]
  })
  const stock = season.lines.map(({ id }, line) => {
    const there = room.packs.filter((pack) => pack.line === line && pack.arrives < day)
    return { line: id, count: room.stock[line]! + there.reduce((sum, { left }) => sum + left, 0) }
  })
  const deliveries: Delivery[] = room.packs
    .filter(({ arrives }) => arrives >= day)
    .map(({ line, arrives, left }) => ({ line: season.lines[line]!.id, on: dateOf(arrives), count: left }))
  return {
    from: dateOf(day),
    weeks: SEASON.horizonWeeks,
    lines: season.lines,
    classes: season.classes,
    demand: expectDemand(room, day, days),
    stock,
    cultures,
    deliveries,
    hatches: room.pending.flatMap((hatch) => seenHatch(hatch, { season, day, days })),
    limits: {},
  }
}

/** A jar that should have given flies by now has been looked at, also where nothing came. */
function watched(jar: Jar, day: number) {
  return day - jar.day < 7 ? [] : [...jar.harvested, { on: dateOf(day - 1), count: 0 }]
}

function expectDemand(room: Room, today: number, days: number): DemandRow[] {
  const { classes, saleRate } = room.season
  const means = classes.map(() => new Float64Array(days))
  const variances = classes.map(() => new Float64Array(days))
  for (const clutch of room.clutches) {
    let [age, count] = [clutch.age, clutch.count]
    for (let day = 0; day < days; day += 1) {
      const spread = 0.02 + 0.1 * Math.min(1, day / 30)
      sharesAt(age).forEach((share, index) => {
        means[index]![day]! += count * share
        variances[index]![day]! += (count * share * spread) ** 2
      })
      count *= dailySurvival(age, saleRate(today + day))
      age += 1
    }
  }
  return classes.flatMap(({ id }, index) =>
    Array.from(means[index]!, (animals, day) => ({
      class: id,
      on: dateOf(today + day),
      animals,
      sd: Math.sqrt(variances[index]![day]!),
    })),
  )
}

/** Egg cases that are not laid yet are expected too, with less certainty. */
function seenHatch(hatch: SeasonHatch, at: { season: Season; day: number; days: number }): FutureHatch[] {
  const overdue = at.day - hatch.expectedDay
  if (hatch.expectedDay > at.day + at.days || overdue > 3 * hatch.sdDays) return []
  const isLaid = at.day >= hatch.knownFrom
  const [sdDays, chance] = isLaid ? [hatch.sdDays, chanceLeft(hatch, overdue)] : [9, 0.8 * hatch.chance]
  const base = { id: hatch.id, on: dateOf(hatch.expectedDay), count: hatch.expectedCount, cv: hatch.cv }
  return [{ ...base, sdDays, chance, needsByAgeDays: needsByAge(at.season, hatch.expectedDay) }]
}

function chanceLeft({ chance, sdDays }: SeasonHatch, overdue: number): number {
  const later = 1 / (1 + Math.exp((1.7 * overdue) / sdDays))
  return (chance * later) / (chance * later + 1 - chance)
}

/** Animals per hatchling by class, in steps of two days. */
function needsByAge(season: Season, hatchDay: number): FutureHatch['needsByAgeDays'] {
  const needs: { class: string; fromDay: number; animals: number }[] = []
  let alive = 1
  const last = season.classes.map(() => 0)
  for (let age = 0; age < SEASON.horizonWeeks * 7 + 14; age += 1) {
    if (age % 2 === 0)
      sharesAt(age + 0.5).forEach((share, index) => {
        const animals = alive * share < 0.002 ? 0 : alive * share
        if (animals === 0 && last[index] === 0) return
        needs.push({ class: season.classes[index]!.id, fromDay: age, animals })
        last[index] = animals
      })
    alive *= dailySurvival(age, season.saleRate(Math.max(0, hatchDay + age)))
  }
  return needs
}
