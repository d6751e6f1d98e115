import { z } from 'zod'
import { minorAmount } from '@/lib/domain/money/money'
import {
  MOST_MINOR,
  moneyAnswer,
  ofOrder,
  spokenPrice,
  type Unversioned,
  type Versioned,
} from '@/lib/features/order-payment/schema'
import { STOCK_SHAPES } from '@/lib/features/stock-line/schema'

const MOST_LINES = 12

export const ORDERED_STOCK_KINDS = ['egg_case', 'culture', 'container', 'pack', 'other'] as const
export type OrderedStockKind = (typeof ORDERED_STOCK_KINDS)[number]

const each = {
  price: z
    .number()
    .int()
    .min(0)
    .max(MOST_MINOR)
    .default(0)
    .meta({ description: 'each, in the smallest coin' }),
}
/** What of the stock may go with an order. Siblings go as single animals, chosen on packing day. */
export const orderedStockSchema = z.discriminatedUnion('kind', [
  z.strictObject({ ...STOCK_SHAPES.egg_case, ...each }),
  z.strictObject({ ...STOCK_SHAPES.culture, ...each }),
  z.strictObject({ ...STOCK_SHAPES.container, ...each }),
  z.strictObject({ ...STOCK_SHAPES.pack, ...each }),
  z.strictObject({ ...STOCK_SHAPES.other, ...each }),
])
export type OrderedStock = z.output<typeof orderedStockSchema>

/** A thing of the stock as a form chooses it: `kind~id`, with as much as there is to say of its kind. */
export const stockItemShape = {
  item: z
    .string('Choose what.')
    .regex(/^(egg_case|culture|container|pack|other)~[a-z0-9-]{0,80}$/, 'Choose what.'),
  quantity: z
    .number('Enter a number.')
    .int('Enter a whole number.')
    .min(1, 'At least one.')
    .max(10_000)
    .default(1),
  items: z.number('Enter a number.').int().min(1, 'At least one.').max(10_000).optional(),
  description: z.string().trim().max(120, 'At most 120 letters.').default(''),
  price: spokenPrice,
}
export type StockItem = z.output<z.ZodObject<typeof stockItemShape>>
export const isComplete = ({ item, items }: Pick<StockItem, 'item' | 'items'>) =>
  !item.startsWith('pack~') || items !== undefined
const isNamed = ({ item, description }: Pick<StockItem, 'item' | 'description'>) =>
  !item.startsWith('other~') || description !== ''
export const ITEMS_MISSING = { path: ['items'], message: 'Say how many are in a pack.' }
const NAME_MISSING = { path: ['description'], message: 'Say what it is.' }
export const stockItemSchema = z
  .strictObject(stockItemShape)
  .refine(isComplete, ITEMS_MISSING)
  .refine(isNamed, NAME_MISSING)

export function readStockItem(
  { item, quantity, items = 1, description, price }: StockItem,
  { currency }: { currency: string },
): OrderedStock {
  const [kind = '', id = ''] = item.split('~')
  const cost = { price: minorAmount(price, currency) }
  if (kind === 'egg_case') return { kind, eggCase: id, ...cost }
  if (kind === 'culture') return { kind, culture: id, ...cost }
  if (kind === 'container') return { kind, containerKind: id, quantity, ...cost }
  if (kind === 'pack') return { kind, line: id, quantity, items, ...cost }
  return { kind: 'other', description, quantity, ...cost }
}

/** What joins an order, and what of its stock is taken off it, by the numbers of the lines. */
export const orderStockSchema = z
  .strictObject({
    add: z.array(orderedStockSchema).max(MOST_LINES).default([]),
    remove: z.array(z.number().int().positive()).max(100).default([]),
  })
  .refine(({ add, remove }) => add.length + remove.length > 0, {
    path: ['add'],
    message: 'Say what changes.',
  })
export type OrderStockChange = Unversioned<z.output<typeof orderStockSchema> & Versioned>

export const addStockFormSchema = z
  .strictObject({ ...ofOrder, ...stockItemShape })
  .refine(isComplete, ITEMS_MISSING)
  .refine(isNamed, NAME_MISSING)
export function readAddStockForm(
  { order, version, ...item }: z.output<typeof addStockFormSchema>,
  workspace: { currency: string },
): OrderStockChange {
  return { order, version, add: [readStockItem(item, workspace)], remove: [] }
}
export const removeStockFormSchema = z.strictObject({ ...ofOrder, number: z.number().int().positive() })

export const orderStockAnswer = z.strictObject({
  number: z.number().int(),
  kind: z.enum(ORDERED_STOCK_KINDS),
  description: z.string(),
  quantity: z.number().int(),
  items: z.number().int().nullable().meta({ description: 'in one pack' }),
  price: moneyAnswer,
})
