import { daysBetween } from '../calendar/date'
import { SUSPECT_YIELD_SHARE } from '../culture/mites'
import {
  addUp,
  aliveShare,
  type CultureLaw,
  cultureFutures,
  pickFuture,
  shareBefore,
  yieldQuantile,
} from '../culture/running'
import { normalBelow, normalQuantile } from '../probability/normal'
import { type SeededStream, seededStream } from '../random/seeded'
import {
  type CaseCulture,
  CRASH_SHARE,
  type CultureLine,
  DEFAULT_DELAY_CV,
  discardAgeOf,
  type FoodCase,
  type FoodClass,
  type FoodLine,
  type FutureHatch,
} from './case'
import type { Slot } from './slot'

/** One way the coming weeks may go. */
export type Scenario = {
  /** Animals to be fed, by class and day. */
  need: Float64Array[]
  /** Items that come by themselves, by line and day: running cultures and what is on its way. */
  supply: Float64Array[]
  /** By slot: what each of the cultures started there gives in all; 0 for orders. */
  yieldEach: Float64Array
}

export type ScenarioRoom = {
  foodCase: FoodCase
  lines: readonly FoodLine[]
  classes: readonly FoodClass[]
  slots: readonly Slot[]
  dayCount: number
  /** By line: cultures that a start is usually of, see `usualBatch`. */
  batch: readonly number[]
}

/** Most cultures one slot may start. */
export const MOST_STARTS = 60

/**
 * Draws scenarios. Every uncertain quantity is spread evenly over them (a Latin square: each of `count` equal
 * slices of chance once, in an order of its own), so that few scenarios show the whole spread.
 */
export function drawScenarios(room: ScenarioRoom, options: { count: number; seed: string }): Scenario[] {
  const { count } = options
  const stream = seededStream(options.seed)
  const scenarios = Array.from({ length: count }, () => emptyScenario(room))
  drawDemand(room, scenarios, stream.fork('demand'))
  for (const hatch of room.foodCase.hatches ?? [])
    drawHatch(room, scenarios, { hatch, stream: stream.fork(`hatch/${hatch.id}`) })
  drawRunning(room, scenarios, stream.fork('running'))
  room.slots.forEach((slot, index) => {
    const line = room.lines[slot.line]!
    if (line.kind === 'culture')
      drawYields(line, scenarios, {
        slot: index,
        batch: room.batch[slot.line]!,
        stream: stream.fork(`${line.id}/${slot.day}`),
      })
  })
  return scenarios
}

function emptyScenario({ lines, classes, slots, dayCount }: ScenarioRoom): Scenario {
  return {
    need: classes.map(() => new Float64Array(dayCount)),
    supply: lines.map(() => new Float64Array(dayCount)),
    yieldEach: new Float64Array(slots.length),
  }
}

/** One chance per scenario, each slice of 1 / count once. */
function spreadChances(stream: SeededStream, count: number): number[] {
  const order = stream.shuffle(Array.from({ length: count }, (_, index) => index))
  return order.map((slice) => (slice + stream.uniform()) / count)
}

/** How far the spread of one week carries over into the next. */
const WEEK_MEMORY = 0.8

function drawDemand(room: ScenarioRoom, scenarios: Scenario[], stream: SeededStream): void {
  const classIndex = new Map(room.classes.map(({ id }, index) => [id, index]))
  const means = room.classes.map(() => new Float64Array(room.dayCount))
  const variances = room.classes.map(() => new Float64Array(room.dayCount))
  for (const { class: id, on, animals, sd } of room.foodCase.demand) {
    const index = classIndex.get(id)
    const day = daysBetween(room.foodCase.from, on)
    if (index === undefined || day < 0 || day >= room.dayCount) continue
    means[index]![day]! += animals
    variances[index]![day]! += (sd ?? 0) ** 2
  }
  room.classes.forEach((_, index) => {
    const weeks = Math.ceil(room.dayCount / 7)
    const draws = Array.from({ length: weeks }, () =>
      spreadChances(stream, scenarios.length).map(normalQuantile),
    )
    scenarios.forEach(({ need }, number) => {
      let z = 0
      for (let day = 0; day < room.dayCount; day += 1) {
        if (day % 7 === 0) {
          const fresh = draws[day / 7]![number]!
          z = day === 0 ? fresh : WEEK_MEMORY * z + Math.sqrt(1 - WEEK_MEMORY ** 2) * fresh
        }
        need[index]![day]! += Math.max(0, means[index]![day]! + z * Math.sqrt(variances[index]![day]!))
      }
    })
  })
}

function drawHatch(
  room: ScenarioRoom,
  scenarios: Scenario[],
  of: { hatch: FutureHatch; stream: SeededStream },
): void {
  const { hatch, stream } = of
  const { id: _, on, sdDays = 0, count, cv = 0, chance = 1 } = hatch
  const expected = daysBetween(room.foodCase.from, on)
  const draw = () => spreadChances(stream, scenarios.length)
  const [hatches, days, counts] = [draw(), draw(), draw()]
  const steps = needSteps(room, hatch)
  // What has not hatched by now hatches later: the early part of its days is cut off.
  const cut = sdDays > 0 ? Math.min(0.999, normalBelow(-expected / sdDays)) : 0
  scenarios.forEach(({ need }, number) => {
    if (hatches[number]! >= chance) return
    const z = sdDays > 0 ? normalQuantile(Math.min(1 - 1e-9, cut + (1 - cut) * days[number]!)) : 0
    const day = Math.max(0, Math.round(expected + sdDays * z))
    const nymphs = yieldQuantile({ mean: count, cv }, counts[number]!)
    for (const step of steps) {
      const until = Math.min(room.dayCount, day + step.until)
      for (let at = Math.max(0, day + step.from); at < until; at += 1)
        need[step.class]![at]! += step.animals * nymphs
    }
  })
}

type NeedStep = { class: number; from: number; until: number; animals: number }

/** The steps of a hatch's need with their ends; see `FutureHatch`. */
export function needSteps(room: Pick<ScenarioRoom, 'classes'>, hatch: FutureHatch): NeedStep[] {
  const entries = [...hatch.needsByAgeDays].sort((a, b) => a.fromDay - b.fromDay)
  const isRepeating = new Set(entries.map((entry) => entry.class)).size < entries.length
  return entries.flatMap((entry) => {
    const index = room.classes.findIndex(({ id }) => id === entry.class)
    if (index < 0) return []
    const next = entries.find(
      (other) => other.fromDay > entry.fromDay && (!isRepeating || other.class === entry.class),
    )
    const until = next ? next.fromDay : Number.POSITIVE_INFINITY
    return [{ class: index, from: entry.fromDay, until, animals: entry.animals }]
  })
}

/** What a running culture does: as its line, or in its own way where it stood elsewhere or was made too full. */
export function lawOfCulture(culture: CaseCulture, line: CultureLine): CultureLaw {
  const { mean, cv, crashChance } = line.yield
  return {
    curve: culture.curve ?? line.curve,
    mean: mean * (culture.yieldShare ?? 1),
    cv,
    crashChance,
    crashShare: CRASH_SHARE,
    delayCv: line.delayCv ?? DEFAULT_DELAY_CV,
  }
}

function drawRunning(room: ScenarioRoom, scenarios: Scenario[], stream: SeededStream): void {
  const { from, cultures = [], deliveries = [] } = room.foodCase
  cultures.forEach((culture) => {
    const index = room.lines.findIndex(({ id }) => id === culture.line)
    const line = room.lines[index]
    if (line?.kind !== 'culture') return
    const law = lawOfCulture(culture, line)
    const added = addUp(law.curve)
    const age = daysBetween(culture.startedOn, from)
    const last = culture.harvested?.some(({ on }) => on >= from) ? 1 : 0
    const futures = cultureFutures(culture, law)
    const leaves = culture.until ? daysBetween(from, culture.until) : room.dayCount
    const end = Math.min(room.dayCount, discardAgeOf(culture, line) - age, leaves)
    const share = culture.isSuspect ? SUSPECT_YIELD_SHARE : 1
    const survival = 1 - (line.dailyDeathRate ?? 0)
    const since = culture.uncountedSince ? daysBetween(culture.startedOn, culture.uncountedSince) : age
    for (let copy = 0; copy < (culture.count ?? 1); copy += 1) {
      const chances = spreadChances(stream, scenarios.length)
      scenarios.forEach(({ supply }, number) => {
        const { total, lateDays } = pickFuture(futures, chances[number]!)
        if (end > 0)
          supply[index]![0]! += share * total * aliveShare(added, { since, age, lateDays, survival })
        let before = shareBefore(added, age + last - lateDays)
        for (let day = last; day < end; day += 1) {
          const now = shareBefore(added, age + day + 1 - lateDays)
          supply[index]![day]! += share * total * (now - before)
          before = now
        }
      })
    }
  })
  for (const { line, on, count } of deliveries) {
    const index = room.lines.findIndex(({ id }) => id === line)
    const day = daysBetween(from, on)
    const bought = room.lines[index]
    if (bought?.kind !== 'bought') continue
    for (const { supply } of scenarios) addArrival(supply[index]!, bought.curve, { day, count })
  }
}

/** Puts an arrival into a row of days, by its curve where it is of pupae. */
export function addArrival(
  supply: Float64Array,
  curve: readonly number[] | undefined,
  { day, count }: { day: number; count: number },
): void {
  const shares = curve ?? [1]
  shares.forEach((share, later) => {
    if (day + later >= 0 && day + later < supply.length) supply[day + later]! += share * count
  })
}

/**
 * Cultures differ one from another, so the more are started together the less their mean differs: it is drawn as
 * the mean of as many as a start is usually of. That keeps what a start gives in proportion to its number, and the
 * plan a linear program.
 */
function drawYields(
  line: CultureLine,
  scenarios: Scenario[],
  of: { slot: number; batch: number; stream: SeededStream },
): void {
  const { cv, mean, crashChance } = line.yield
  for (let culture = 0; culture < of.batch; culture += 1) {
    const chances = spreadChances(of.stream, scenarios.length)
    scenarios.forEach((scenario, number) => {
      const chance = chances[number]!
      const own =
        chance < crashChance
          ? CRASH_SHARE * mean
          : yieldQuantile({ mean, cv }, (chance - crashChance) / (1 - crashChance))
      scenario.yieldEach[of.slot]! += own / of.batch
    })
  }
}
