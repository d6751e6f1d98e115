import { addDays, daysBetween, type PlainDate, weekdayOf } from '../calendar/date'
import { writeDay } from '../calendar/wording'
import type { PreyLine } from '../prey/line'

/** A usual order day that a closed day takes away, with the last day to order before it. */
export type CutOff = { line: string; missed: PlainDate; orderBy: PlainDate | null; words: string }

const AHEAD_DAYS = 21
/** The order goes a day or two later: nobody has to be told. */
const WORTH_A_WORD_DAYS = 4

/** Order days lost to closed days within three weeks. A line that can be ordered daily loses none worth a word. */
export function listCutOffs(
  lines: readonly PreyLine[],
  closed: { supplier: readonly PlainDate[]; room: readonly PlainDate[] },
  today: PlainDate,
): CutOff[] {
  return lines.flatMap(({ name, supply }): CutOff[] => {
    if (supply.kind === 'culture') return []
    const weekdays = supply.orderWeekdays.value
    const leadDays = Math.round(supply.leadDays.value)
    const isOpen = (on: PlainDate) =>
      !closed.supplier.includes(on) && !closed.room.includes(addDays(on, leadDays))
    const isOrderDay = (on: PlainDate) => weekdays.includes(weekdayOf(on))
    const days = Array.from({ length: AHEAD_DAYS }, (_, day) => addDays(today, day)).filter(isOrderDay)
    const lost = days.filter((on) => !isOpen(on))
    const [missed] = lost
    if (!missed) return []
    const orderBy = days.findLast((on) => on < missed && isOpen(on)) ?? null
    const next = days.find((on) => on > missed && isOpen(on))
    if (next && daysBetween(missed, next) < WORTH_A_WORD_DAYS) return []
    const by = orderBy ? `Order by ${writeDay(orderBy, today)}` : 'There is no earlier order day left'
    const again = next ? `, then not before ${writeDay(next, today)}` : ', then not for the three weeks ahead'
    const words = `${name}: no order on ${writeDay(missed, today)}, a closed day. ${by}${again}.`
    return [{ line: name, missed, orderBy, words }]
  })
}
