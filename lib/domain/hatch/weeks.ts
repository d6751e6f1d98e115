import { addDays, type PlainDate } from '../calendar/date'
import { type HatchInput, hatchChances } from './forecast'

/** An egg case that may still hatch, and how many nymphs it gives if it does. */
export type WaitingEggCase = { label: string; input: HatchInput; nymphs: number }

/** What may hatch within one week: by egg case, all in all, and the nymphs to be ready for. */
export type HatchWeek = {
  week: PlainDate
  until: PlainDate
  cases: { label: string; chance: number }[]
  chanceOfAny: number
  nymphs: number
}

const WORTH_A_LINE = 0.02

/** The weeks ahead from today on. Egg cases hatch independently of each other; those at rest with no end planned do not. */
export function hatchWeeks(waiting: readonly WaitingEggCase[], weeks: number): HatchWeek[] {
  const today = waiting[0]?.input.today
  if (today === undefined) return []
  const known = waiting.flatMap(({ label, input, nymphs }) => {
    const chances = hatchChances(input)
    return chances ? [{ label, nymphs, chances }] : []
  })
  return Array.from({ length: weeks }, (_, index) => {
    const week = addDays(today, 7 * index)
    const each = known.map(({ label, nymphs, chances }) => {
      const inside = chances.withinDays(7 * (index + 1)) - chances.withinDays(7 * index)
      return { label, nymphs, chance: chances.stillHatches * Math.max(0, inside) }
    })
    return {
      week,
      until: addDays(week, 6),
      cases: each
        .filter(({ chance }) => chance >= WORTH_A_LINE)
        .map(({ label, chance }) => ({ label, chance })),
      chanceOfAny: 1 - each.reduce((none, { chance }) => none * (1 - chance), 1),
      nymphs: each.reduce((sum, { chance, nymphs }) => sum + chance * nymphs, 0),
    }
  })
}
