import { addDays, type PlainDate, weekdayOf } from '../calendar/date'
import type { DemandRow, FoodClass } from '../food-plan/case'
import type { PreyLine } from '../prey/line'

/** Other mouths that eat again and again: frogs, a neighbour's geckos, a customer's weekly box. */
export type OtherMouth = {
  id: string
  name: string
  /** First choice first; equivalents as items of each line in place of `itemsEachTime`. */
  line: string
  itemsEachTime: number
  /** ISO weekdays. */
  weekdays: readonly number[]
  from?: PlainDate
  until?: PlainDate
  /** Of one item short, minor units. */
  shortageCostPerItem?: number
}

/** A box not filled costs about what it is sold for; a default. */
const SHORTAGE_PER_ITEM = 20

/** Each mouth is a class of its own that takes single items. Mouths of a line that is not kept are left out. */
export function otherMouthDemand(
  mouths: readonly OtherMouth[],
  at: { from: PlainDate; days: number; lines: readonly Pick<PreyLine, 'id'>[] },
): { classes: FoodClass[]; demand: DemandRow[] } {
  const known = mouths.filter(({ line }) => at.lines.some(({ id }) => id === line))
  return {
    classes: known.map(({ id, name, line, shortageCostPerItem }) => ({
      id: `mouth-${id}`,
      name,
      shortageCost: shortageCostPerItem ?? SHORTAGE_PER_ITEM,
      accepts: [{ line, itemsPerAnimalDay: 1 }],
      isOtherMouth: true,
    })),
    demand: known.flatMap((mouth) =>
      Array.from({ length: at.days }, (_, day) => addDays(at.from, day))
        .filter((on) => isFed(mouth, on))
        .map((on) => ({ class: `mouth-${mouth.id}`, on, animals: mouth.itemsEachTime })),
    ),
  }
}

function isFed({ weekdays, from, until }: OtherMouth, on: PlainDate): boolean {
  return weekdays.includes(weekdayOf(on)) && (!from || on >= from) && (!until || on <= until)
}
