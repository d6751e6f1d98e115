import { z } from 'zod'

const pieces = z.number('Enter a number.').int('Enter a whole number.').max(10_000, 'At most 10,000.')
const atLeastOne = pieces.min(1, 'At least one.')
const some = pieces.min(0, 'Not below nothing.').default(0)

/** What is sold besides single animals, by the shape of what has to be known of it. */
export const STOCK_SHAPES = {
  lot: { kind: z.literal('lot'), clutch: z.uuid(), males: some, females: some, unsexed: some },
  egg_case: { kind: z.literal('egg_case'), eggCase: z.uuid() },
  culture: { kind: z.literal('culture'), culture: z.uuid() },
  container: { kind: z.literal('container'), containerKind: z.uuid(), quantity: atLeastOne },
  pack: {
    kind: z.literal('pack'),
    line: z.string().trim().min(1).max(80),
    quantity: atLeastOne,
    items: atLeastOne.meta({ description: 'items in one pack: they leave the food supply' }),
  },
  other: {
    kind: z.literal('other'),
    description: z.string().trim().min(1, 'Say what it is.').max(120, 'At most 120 letters.'),
    quantity: atLeastOne,
  },
} as const

/** What of the stock is sold with one line. */
export type StockSubject =
  | { kind: 'lot'; clutch: string; males: number; females: number; unsexed: number }
  | { kind: 'egg_case'; eggCase: string }
  | { kind: 'culture'; culture: string }
  | { kind: 'container'; containerKind: string; quantity: number }
  | { kind: 'pack'; line: string; quantity: number; items: number }
  | { kind: 'other'; description: string; quantity: number }

export const SALE_LINE_KINDS = ['animal', 'lot', 'egg_case', 'culture', 'container', 'pack', 'other'] as const
export type SaleLineKind = (typeof SALE_LINE_KINDS)[number]

export const SALE_LINE_KIND_WORDS: Record<SaleLineKind, string> = {
  animal: 'single animals',
  lot: 'lots',
  egg_case: 'egg cases',
  culture: 'cultures',
  container: 'containers',
  pack: 'live food in packs',
  other: 'anything else',
}
