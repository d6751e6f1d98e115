import { z } from 'zod'
import { SALE_LINE_KINDS } from '@/lib/features/stock-line/schema'

const version = z.number().int().positive()

export const taxRateSchema = z.strictObject({
  name: z.string().trim().min(1, 'Give it a name, as it stands on receipts.').max(40, 'At most 40 letters.'),
  percent: z.number('Enter a per cent.').min(0, 'Not below nothing.').max(100, 'At most 100 %.'),
  appliesTo: z.array(z.enum(SALE_LINE_KINDS)).max(SALE_LINE_KINDS.length).default([]),
})
export type TaxRateInput = z.output<typeof taxRateSchema>

export const archiveTaxRateSchema = z.strictObject({ id: z.uuid(), version })
export type ArchiveTaxRate = z.output<typeof archiveTaxRateSchema>
