import { z } from 'zod'
import {
  ITEMS_MISSING,
  isComplete,
  type OrderedStock,
  readStockItem,
  stockItemShape,
} from '@/lib/features/order-stock/schema'

const ofBox = { box: z.uuid(), version: z.number().int().positive() }

/** So many of something of the stock, into a part of a box. */
export const packItemFormSchema = z
  .strictObject({ ...ofBox, part: z.coerce.number().int().min(1).max(9), ...stockItemShape })
  .refine(isComplete, ITEMS_MISSING)
  .refine(({ item }) => !item.startsWith('other~'), { path: ['item'], message: 'Choose what.' })

export type PackingItem = { box: string; version: number; part: number; line: OrderedStock }

export function readPackItemForm(
  { box, version, part, ...item }: z.output<typeof packItemFormSchema>,
  workspace: { currency: string },
): PackingItem {
  return { box, version, part, line: readStockItem(item, workspace) }
}

/** It stays at home after all. */
export const unpackItemSchema = z.strictObject({ ...ofBox, number: z.number().int().positive() })
export type UnpackingItem = z.output<typeof unpackItemSchema>
