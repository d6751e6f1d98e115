import { type PlainDate, weekdayOf } from '../calendar/date'
import { writeCount, writeDay } from '../calendar/wording'
import type { CheckedDay } from './day'
import type { DispatchAnswer, HeldUp } from './days'
import { sayPacking } from './gate'
import type { Swap, WayOut } from './way-out'

const SHORT_WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun']

/** "Tue 1 Dec" */
export function writeWeekday(date: PlainDate, today: PlainDate): string {
  return `${SHORT_WEEKDAYS[weekdayOf(date) - 1]} ${writeDay(date, today)}`
}

/** "28 Nov, 30 Nov to 2 Dec". */
function writeStretches(stretches: HeldUp['stretches'], today: PlainDate): string {
  return stretches
    .map(({ from, until }) =>
      from === until ? writeDay(from, today) : `${writeDay(from, today)} to ${writeDay(until, today)}`,
    )
    .join(', ')
}

/** "Tue 1 Dec, arrives Wed 2 Dec, with a heat pack …" */
export function sayOfferedDay(day: CheckedDay, today: PlainDate): string {
  const packing = day.packing ? sayPacking(day.packing) : ''
  const air = day.missingAir ? lowerFirst(day.missingAir).replace(/\.$/, '') : packing
  return [`${writeWeekday(day.packOn, today)}, arrives ${writeWeekday(day.arriveOn, today)}`, air]
    .filter(Boolean)
    .join('; ')
}

/** When everything can go first, in one sentence. */
export function sayFirstDay(answer: DispatchAnswer, today: PlainDate): string {
  const [first] = answer.days
  if (!first) return `On no day up to ${writeDay(answer.lookedUntil, today)} can everything go.`
  const when = first.packOn === today ? 'today' : `on ${writeWeekday(first.packOn, today)}`
  return `Everything can go ${when}, to arrive on ${writeWeekday(first.arriveOn, today)}.`
}

export type Names = { animal: (id: string) => string }

/** "K7Q 97, 30 Nov to 1 Dec: it will probably moult between …": one line for one cause. */
export function sayHeldUp({ hold, stretches }: HeldUp, names: Names, today: PlainDate): string {
  const days = writeStretches(stretches, today)
  if (hold.by === 'animal') return `${names.animal(hold.animal)}, ${days}: ${lowerFirst(hold.message)}`
  return `${days}: ${hold.message}`
}

/** A way out, as a colleague would propose it. */
export function sayWayOut(way: WayOut, names: Names, today: PlainDate): string {
  if (way.kind === 'swap') return `Take ${way.swaps.map((swap) => saySwap(swap, names)).join(' and ')}.`
  if (way.kind === 'wait')
    return `Wait until ${writeWeekday(way.until, today)}: then everything goes at once.`
  const rest = way.restOn ? `on ${writeWeekday(way.restOn, today)}` : 'once they are fit'
  const staying = way.staying.map(names.animal).join(' and ')
  return `Send ${writeCount(way.going.length, 'animal')} now and ${staying} ${rest}.`
}

function saySwap({ from, to, chance }: Swap, names: Names): string {
  return `${names.animal(to)} instead of ${names.animal(from)} (fit to travel with ${Math.round(100 * chance)} %)`
}

function lowerFirst(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1)
}
