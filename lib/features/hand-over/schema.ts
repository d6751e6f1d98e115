import { z } from 'zod'
import type { HandedRecord } from '@/lib/domain/hand-over/record'

export const MOST_HANDED_OVER = 200

export const newHandOverSchema = z.strictObject({
  individuals: z
    .array(z.uuid())
    .min(1, 'At least one animal.')
    .max(MOST_HANDED_OVER, `At most ${MOST_HANDED_OVER} at once.`),
  toName: z.string().trim().max(120, 'At most 120 letters.').default(''),
  note: z.string().trim().max(500, 'At most 500 letters.').default(''),
})
export type NewHandOver = z.output<typeof newHandOverSchema>

export const withdrawSchema = z.strictObject({ id: z.uuid(), version: z.number().int().positive() })
export type Withdrawal = z.output<typeof withdrawSchema>

export const takeOverSchema = z.strictObject({
  code: z.string().trim().min(1, 'Paste the code you were given.').max(200),
  containerKind: z.uuid('Choose what they go into.'),
  zone: z.uuid('Choose where they go.'),
})
export type TakeOver = z.output<typeof takeOverSchema>

/** What was handed over, as it stands with the side that gave it. */
export type HandedOver = { origin: string; from: string; records: HandedRecord[] }
