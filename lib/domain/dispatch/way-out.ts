import type { PlainDate } from '../calendar/date'
import { type CheckedDay, checkDay, type GoingAnimal } from './day'
import { type DispatchAnswer, firstDispatchDays } from './days'
import type { DispatchQuestion, OrderedLine } from './order'

/**
 * What to do about an order that cannot go on a day: take an equal that is fit, send those who are and the rest
 * later, or wait for all of them.
 */
export type Swap = { line: number; from: string; to: string; chance: number }
export type WayOut =
  | { kind: 'swap'; swaps: Swap[] }
  | { kind: 'split'; going: string[]; staying: string[]; restOn: PlainDate | null }
  | { kind: 'wait'; until: PlainDate }

export function waysOut(packOn: PlainDate, question: DispatchQuestion): WayOut[] {
  const day = checkDay(packOn, question)
  const blocked = day.holds.flatMap((hold) => (hold.by === 'animal' ? [hold.animal] : []))
  const isOpen = day.holds.every(({ by }) => by === 'animal' || by === 'line')
  const ways: WayOut[] = []
  const swaps = isOpen && blocked.length > 0 ? findSwaps(packOn, question, blocked) : null
  if (swaps) ways.push({ kind: 'swap', swaps })
  const split = isOpen ? splitOf(day, question, blocked) : null
  if (split) ways.push(split)
  const first = firstDispatchDays(question).days.find((one) => one.packOn > packOn)
  if (first) ways.push({ kind: 'wait', until: first.packOn })
  return ways
}

/** Asks again without those who are blocked: their places are filled like any that nobody was chosen for. */
function findSwaps(packOn: PlainDate, question: DispatchQuestion, blocked: readonly string[]): Swap[] | null {
  const without = (line: OrderedLine) => ({
    ...line,
    chosen: line.chosen.filter((id) => !blocked.includes(id)),
  })
  const animals = question.animals.filter(({ id }) => !blocked.includes(id))
  const again = checkDay(packOn, { ...question, animals, lines: question.lines.map(without) })
  if (again.holds.length > 0) return null
  const fresh = again.going.filter(({ isChosen }) => !isChosen)
  const taken = new Set<string>()
  return question.lines.flatMap((line) =>
    line.chosen
      .filter((id) => blocked.includes(id))
      .flatMap((from) => {
        const found = fresh.find((one) => one.line === line.number && !taken.has(one.animal))
        if (!found) return []
        taken.add(found.animal)
        return [{ line: line.number, from, to: found.animal, chance: found.chance }]
      }),
  )
}

function splitOf(day: CheckedDay, question: DispatchQuestion, blocked: readonly string[]): WayOut | null {
  const going = day.going.map(({ animal }: GoingAnimal) => animal)
  if (going.length === 0 || blocked.length === 0) return null
  const staying = new Set(blocked)
  const rest = question.lines
    .map((line) => {
      const chosen = line.chosen.filter((id) => staying.has(id))
      return { ...line, chosen, count: chosen.length }
    })
    .filter(({ count }) => count > 0)
  const animals = question.animals.filter(({ id }) => staying.has(id))
  const later = firstDispatchDays({ ...question, animals, lines: rest }).days[0]
  return { kind: 'split', going, staying: [...blocked], restOn: later?.packOn ?? null }
}

/** Ways out of the first sending day on which something is in the way; none where nothing is. */
export function waysOutOf(answer: DispatchAnswer, question: DispatchQuestion): WayOut[] {
  const on = firstHeldDay(answer)
  const first = answer.days[0]
  if (on === null || (first && first.packOn <= on)) return []
  return waysOut(on, question)
}

function firstHeldDay({ heldUp }: DispatchAnswer): PlainDate | null {
  const days = heldUp
    .filter(({ hold }) => hold.by !== 'closed-day')
    .flatMap(({ stretches }) => stretches[0]?.from ?? [])
  return days.sort()[0] ?? null
}
