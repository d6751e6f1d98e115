import { addDays, daysBetween } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import { normalBelow } from '../probability/normal'
import type { FutureHatch } from './case'
import type { PlanDecision } from './plan-week'
import type { PlanRoom } from './room'
import { needSteps } from './scenario'

/** Items of a line wanted as first choice, by who will want them and day: each hatch, and everything else. */
type Wants = { hatches: Map<string, Float64Array[]>; others: Float64Array[] }

/** Per week one sentence for each start or order: what it gives when, and for whom. */
export function sayReasons(room: PlanRoom, decisions: readonly PlanDecision[]): string[][] {
  const wants = expectWants(room)
  const reasons = Array.from({ length: room.weekCount }, (): string[] => [])
  for (const decision of decisions) reasons[decision.slot.week]!.push(sayReason(room, decision, wants))
  return reasons
}

function sayReason(room: PlanRoom, { slot, count }: PlanDecision, wants: Wants): string {
  const line = room.lines[slot.line]!
  const shares = givenShares(room, slot.line)
  const span = givenSpan(shares, slot.arrives)
  const on = writeDay(addDays(room.foodCase.from, slot.day), room.foodCase.from)
  const what =
    line.kind === 'culture' ? `Start ${writeCount(count, 'jar')}` : `Order ${writeCount(count, 'pack')}`
  const head = `${what} of ${nameOf(line)} on ${on}`
  const gives = `${line.kind === 'culture' ? 'they give' : 'it feeds'} ${sayWeeks(span)}`
  return `${head}: ${gives}, ${sayTakers(room, { line: slot.line, span, wants })}.`
}

function nameOf({ name, id }: { name?: string; id: string }): string {
  return name ?? id
}

function givenShares(room: PlanRoom, index: number): readonly number[] {
  const line = room.lines[index]!
  if (line.kind === 'culture') return line.curve.slice(0, line.discardAfterDays)
  const keeps = Array.from({ length: Math.max(1, Math.round(line.keepDays)) }, () => 1)
  return line.curve ?? keeps
}

type Span = { first: number; last: number }

/** Days between which nine tenths come. */
function givenSpan(shares: readonly number[], begins: number): Span {
  const all = shares.reduce((sum, share) => sum + share, 0)
  let sum = 0
  let first = -1
  for (const [day, share] of shares.entries()) {
    sum += share
    if (first < 0 && sum >= 0.05 * all) first = day
    if (sum >= 0.95 * all) return { first: begins + Math.max(0, first), last: begins + day }
  }
  return { first: begins, last: begins + shares.length - 1 }
}

function sayWeeks({ first, last }: Span): string {
  const [from, until] = [Math.floor(first / 7) + 1, Math.floor(last / 7) + 1]
  return from === until ? `in week ${from}` : `in weeks ${from} to ${until}`
}

function sayTakers(room: PlanRoom, at: { line: number; span: Span; wants: Wants }): string {
  const { line, span, wants } = at
  const days = (rows: Float64Array[]) =>
    rows.map((row) => row.subarray(span.first, span.last + 1).reduce((sum, items) => sum + items, 0))
  const others = days(wants.others)
  const byHatch = [...wants.hatches].map(([id, rows]) => ({ id, items: days(rows) }))
  const byClass = room.classes
    .map((each, index) => ({
      name: nameOf(each),
      items: others[index]! + byHatch.reduce((sum, { items }) => sum + items[index]!, 0),
      perAnimal:
        each.accepts.find((accepted) => accepted.line === room.lines[line]!.id)?.itemsPerAnimalDay ?? 0,
    }))
    .filter(({ items, perAnimal }, index) => isFirst(room, index, line) && perAnimal > 0 && items > 0.5)
    .sort((a, b) => b.items - a.items)
  if (byClass.length === 0) return 'kept so that the line does not break off or as a second choice'
  const all = byClass.reduce((sum, { items }) => sum + items, 0)
  const length = Math.max(1, Math.min(span.last, room.dayCount - 1) - span.first + 1)
  const [most] = byClass
  const animals = Math.max(1, Math.round(most!.items / most!.perAnimal / length))
  const firsts = room.classes.flatMap((_, index) => (isFirst(room, index, line) ? [index] : []))
  const sources = byHatch
    .map(({ id, items }) => ({ id, share: firsts.reduce((sum, index) => sum + items[index]!, 0) / all }))
    .filter(({ share }) => share >= 0.05)
    .sort((a, b) => b.share - a.share)
    .slice(0, 3)
  return `for about ${animals} ${most!.name} a day${sayRest(byClass.slice(1))}, ${saySources(sources)}`
}

function isFirst(room: PlanRoom, index: number, line: number): boolean {
  return room.classes[index]!.accepts[0]?.line === room.lines[line]!.id
}

function sayRest(rest: readonly { name: string }[]): string {
  if (rest.length === 0) return ''
  const names = rest.slice(0, 2).map(({ name }) => name)
  return ` and for ${names.join(' and ')}`
}

function saySources(sources: readonly { id: string; share: number }[]): string {
  if (sources.length === 0) return 'animals that are there already'
  const [first, ...more] = sources
  const share = Math.round(first!.share * 100)
  const head = share >= 50 ? `mostly from ${first!.id} (${share} %)` : `${share} % of it from ${first!.id}`
  return more.length === 0 ? head : `${head}, also from ${more.map(({ id }) => id).join(' and ')}`
}

function expectWants(room: PlanRoom): Wants {
  const { foodCase, classes, dayCount } = room
  const rows = () => classes.map(() => new Float64Array(dayCount))
  const perAnimal = classes.map(({ accepts }) => accepts[0]?.itemsPerAnimalDay ?? 0)
  const others = rows()
  const places = new Map(classes.map(({ id }, index) => [id, index]))
  for (const { class: id, on, animals } of foodCase.demand) {
    const day = daysBetween(foodCase.from, on)
    const index = places.get(id)
    if (index !== undefined && day >= 0 && day < dayCount) others[index]![day]! += animals * perAnimal[index]!
  }
  const hatches = new Map<string, Float64Array[]>()
  for (const hatch of foodCase.hatches ?? []) hatches.set(hatch.id, expectHatch(room, hatch, perAnimal))
  return { hatches, others }
}

/** Expected items of one hatch by class and day, over the days on which it may hatch. */
function expectHatch(room: PlanRoom, hatch: FutureHatch, perAnimal: readonly number[]): Float64Array[] {
  const { classes, dayCount, foodCase } = room
  const rows = classes.map(() => new Float64Array(dayCount))
  const { on, sdDays = 0, count, chance = 1 } = hatch
  const expected = daysBetween(foodCase.from, on)
  const steps = needSteps(room, hatch)
  for (let at = -2; at <= 2; at += 1) {
    const weight = sdDays > 0 ? normalBelow(at + 0.5) - normalBelow(at - 0.5) : at === 0 ? 1 : 0
    const begins = Math.max(0, Math.round(expected + at * sdDays))
    for (const step of steps) {
      const until = Math.min(dayCount, begins + step.until)
      const items = weight * chance * count * step.animals * perAnimal[step.class]!
      for (let day = Math.max(0, begins + step.from); day < until; day += 1) rows[step.class]![day]! += items
    }
  }
  return rows
}
