import { z } from 'zod'
import { LOSS_CAUSES } from '@/lib/domain/head-count/loss-cause'
import { plainDateSchema } from '@/lib/platform/plain-date-schema'

/** The shape of what a device sends. A device may be away for months, so older shapes stay understood. */
export const BENCH_VERSION = 1
export const OPERATIONS_PER_SENDING = 50

const ENVELOPE = {
  id: z.uuid(),
  workspaceId: z.uuid(),
  personId: z.uuid(),
  run: z.uuid(),
  on: plainDateSchema,
  tappedAt: z.iso.datetime({ offset: true }),
  v: z.literal(BENCH_VERSION),
}

const cupPayload = z.strictObject({
  containerKind: z.uuid(),
  /** from the numbers the run has set aside; without one the service takes the next */
  number: z.number().int().positive().optional(),
  /** moults since hatch, where somebody looked */
  moults: z.number().int().min(0).max(12).optional(),
})

/**
 * One touch at the bench. `raise` corrects the count of hatched animals upwards by what was found, `undo` names the
 * operation it takes back, `finish` closes the run.
 */
export const benchOperationSchema = z.discriminatedUnion('kind', [
  z.strictObject({ ...ENVELOPE, kind: z.literal('cup'), payload: cupPayload }),
  z.strictObject({
    ...ENVELOPE,
    kind: z.literal('dead'),
    payload: z.strictObject({ cause: z.enum(LOSS_CAUSES).default('unknown') }),
  }),
  z.strictObject({ ...ENVELOPE, kind: z.literal('escaped'), payload: z.strictObject({}) }),
  z.strictObject({
    ...ENVELOPE,
    kind: z.literal('raise'),
    payload: z.strictObject({ count: z.number().int().min(1).max(1000) }),
  }),
  z.strictObject({ ...ENVELOPE, kind: z.literal('undo'), undoes: z.uuid(), payload: z.strictObject({}) }),
  z.strictObject({ ...ENVELOPE, kind: z.literal('finish'), payload: z.strictObject({}) }),
])
export type BenchOperation = z.output<typeof benchOperationSchema>

/** Each operation is judged by itself: one that cannot be read does not hold up the others. */
export const benchBodySchema = z.strictObject({
  operations: z.array(z.unknown()).min(1).max(OPERATIONS_PER_SENDING),
})

export type BenchAnswer =
  | { id: string; status: 'applied' | 'already-applied'; label?: string }
  | { id: string; status: 'refused'; code: string; message: string; present?: unknown }
