import { z } from 'zod'
import { LOSS_CAUSES } from '@/lib/domain/head-count/loss-cause'
import type { BenchOpening } from '@/lib/domain/separation/bench-run'
import { refuseUnknown } from '@/lib/platform/errors'
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

const hangingPayload = z.strictObject({
  count: z.number().int().min(0).max(100_000),
  /** moults since hatch that they have made: the one they hang for is the next */
  moults: z.number().int().min(0).max(11),
})

/**
 * One touch at the bench. `raise` corrects the count of hatched animals upwards by what was found, `undo` names the
 * operation it takes back, `finish` closes the run, `tray` keeps its cups as one, `hanging` says how many of those who
 * stay hang for a moult.
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
  z.strictObject({ ...ENVELOPE, kind: z.literal('tray'), payload: z.strictObject({}) }),
  z.strictObject({ ...ENVELOPE, kind: z.literal('hanging'), payload: hangingPayload }),
])
export type BenchOperation = z.output<typeof benchOperationSchema>

/** Each operation is judged by itself: one that cannot be read does not hold up the others. */
export const benchBodySchema = z.strictObject({
  operations: z.array(z.unknown()).min(1).max(OPERATIONS_PER_SENDING),
})

/** Who is signed in on a device, and where they may count. */
export type BenchWho = {
  person: { id: string; name: string; email: string }
  workspaces: { id: string; slug: string; name: string; mayCount: boolean }[]
}

/** How a run stands by the service, up to the ledger entry that is named. */
export type RunStanding = BenchOpening & { seen: string }

/** Everything a device needs to go on with a run without a connection. */
export type BenchRun = {
  workspace: { id: string; slug: string; name: string }
  person: { id: string; name: string }
  run: {
    id: string
    on: string
    planned: number
    firstNumber: number
    containerKindId: string
    isFinished: boolean
  }
  clutch: { id: string; label: string; scientificName: string }
  kinds: { id: string; name: string }[]
  /** As printed, for the numbers the run has set aside, in their order. */
  labels: string[]
  standing: RunStanding
  /** The stage most are in by the warmth since the hatch, as moults. */
  likelyMoults: number
  /** Until when those who stay can stay: "due on 28 Nov". */
  deadline: string
  /** Until when those who hang for a moult now are left alone: "Thursday 3 December". */
  hangingUntil: string
}

const runQuerySchema = z.strictObject({
  run: z.uuid(),
  workspace: z.uuid(),
  /** The last ledger entry the device knows of: where there is none after it, the answer says so and no more. */
  seen: z.uuid().optional(),
  /** How many hang, as the device knows it: saying so moves nobody, so the ledger does not tell. */
  hanging: z.coerce.number().int().min(0).optional(),
})

/** @throws AppError not-found for an address that cannot be a run's */
export function readRunQuery(address: string, params: { run: string }) {
  const sent = { ...Object.fromEntries(new URL(address).searchParams), run: params.run }
  const read = runQuerySchema.safeParse(sent)
  if (!read.success) throw refuseUnknown('run at the bench')
  const { workspace: workspaceId, ...rest } = read.data
  return { ...rest, workspaceId }
}
