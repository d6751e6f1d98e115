import type { CaseCulture, Delivery, DemandRow, FoodCase, FutureHatch } from '@/lib/domain/food-plan/case'
import type { Jar, Room } from './season-play'
import { dailySurvival, dateOf, SEASON, type Season, type SeasonHatch, sharesAt } from './season-room'

/** What the records say on a morning. */
export function see(room: Room, day: number): FoodCase {
  const { season } = room
  const expected = expectAnimals(room, day)
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
    ...expected,
    stock,
    cultures,
    deliveries,
    limits: {},
  }
}

/** A jar that should have given flies by now has been looked at, also where nothing came. */
function watched(jar: Jar, day: number) {
  return day - jar.day < 7 ? [] : [...jar.harvested, { on: dateOf(day - 1), count: 0 }]
}

type Expected = Pick<FoodCase, 'demand' | 'hatches'>
const expectations = new WeakMap<Season, Map<number, Expected>>()

/** The same for every policy. */
function expectAnimals(room: Room, day: number): Expected {
  const { season } = room
  const byDay = expectations.get(season) ?? new Map<number, Expected>()
  expectations.set(season, byDay)
  const days = SEASON.horizonWeeks * 7
  const expected = byDay.get(day) ?? {
    demand: expectDemand(room, day, days),
    hatches: room.timeline.pending[day]!.flatMap((hatch) => seenHatch(hatch, { season, day, days })),
  }
  byDay.set(day, expected)
  return expected
}

function expectDemand(room: Room, today: number, days: number): DemandRow[] {
  const { classes, saleRate } = room.season
  const means = classes.map(() => new Float64Array(days))
  const variances = classes.map(() => new Float64Array(days))
  for (const clutch of room.timeline.clutches[today]!) {
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
