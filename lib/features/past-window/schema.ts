import { z } from 'zod'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { WINDOW_KINDS } from '@/lib/domain/past-window/given'
import type { Coverage, Verdict } from '@/lib/domain/past-window/judge'
import { type KindSummary, RECORDS_BANDS } from '@/lib/domain/past-window/summary'
import { listLeftOut, sayHeld, sayMissed, sayTrust } from '@/lib/domain/past-window/wording'
import type { PastWindowRow } from '@/lib/features/past-window/data'
import { describeApi } from '@/lib/platform/api/operation'
import { asOfSchema, plainDateSchema } from '@/lib/platform/plain-date-schema'

/** Of all species where nothing is asked for. */
export const pastWindowQuery = z.strictObject({
  species: z.string().min(1).max(120).optional().meta({ description: 'id, or slug of the scientific name' }),
  individual: z.uuid().optional(),
  clutch: z.uuid().optional().meta({ description: 'its animals, and the egg case it hatched from' }),
  eggCase: z.uuid().optional(),
  asOf: asOfSchema,
})
export type PastWindowQuery = z.output<typeof pastWindowQuery>

const share = z.number().min(0)
const coverageAnswer = z
  .strictObject({
    judged: z.number().int(),
    early: share.meta({ description: 'came before the first day of the window; broken where noticed late' }),
    held: share,
    late: share,
    said: share.meta({ description: 'windows that should have held by their own chances' }),
    saidSd: share,
    inParts: z.number().int(),
    stillRunning: z.number().int(),
    open: z.number().int(),
    left: z.number().int(),
    unseen: z.number().int(),
    medianWindowDays: z.number().int().nullable(),
  })
  .meta({ id: 'WindowCoverage' })

const windowAnswer = z.strictObject({
  kind: z.enum(WINDOW_KINDS),
  subject: z.uuid(),
  label: z.string(),
  scientificName: z.string(),
  moults: z.number().int(),
  givenOn: plainDateSchema,
  p10: plainDateSchema,
  p50: plainDateSchema,
  p90: plainDateSchema,
  chanceInside: z.number(),
  instarsSeen: z.number().int(),
  came: z.strictObject({ earliestOn: plainDateSchema, latestOn: plainDateSchema }).nullable(),
  verdict: z.enum(['held', 'early', 'late', 'in-parts', 'open', 'left', 'unseen']),
})

const pastWindowsAnswer = z
  .strictObject({
    asOf: plainDateSchema,
    kinds: z.array(
      z.strictObject({
        kind: z.enum(WINDOW_KINDS),
        sentence: z.string(),
        leftOut: z.array(z.string()),
        coverage: coverageAnswer,
        byStage: z.array(z.strictObject({ moults: z.number().int(), coverage: coverageAnswer })),
        byRecords: z.array(
          z.strictObject({
            instars: z.enum(RECORDS_BANDS.map(({ id }) => id)),
            coverage: coverageAnswer,
          }),
        ),
      }),
    ),
    windows: z.array(windowAnswer).meta({ description: 'newest first, at most 200' }),
  })
  .meta({ id: 'PastWindows' })
export type PastWindowsAnswer = z.input<typeof pastWindowsAnswer>

export const pastWindowApi = {
  load: describeApi({
    id: 'loadPastWindows',
    method: 'get',
    path: '/past-windows',
    tag: 'Species',
    summary: 'Windows that were given, judged against what came',
    permission: 'individual:read',
    query: pastWindowQuery,
    answer: pastWindowsAnswer,
  }),
}

/** Which way a window went, in one word; in parts where the days in which it was noticed lie on both sides. */
export function sideOf(verdict: Verdict): PastWindowsAnswer['windows'][number]['verdict'] {
  if (verdict.status !== 'judged') return verdict.status
  const { early, held, late } = verdict
  if (held === 1) return 'held'
  return early === 1 ? 'early' : late === 1 ? 'late' : 'in-parts'
}

/** "41 of 50 windows held. Of the 9 that did not, …" */
export function sayCoverage(coverage: Coverage): string {
  return [sayHeld(coverage), sayMissed(coverage), sayTrust(coverage)].filter(Boolean).join(' ')
}

const MOST_WINDOWS = 200

export function presentPastWindows(
  rows: readonly (PastWindowRow & { verdict: Verdict })[],
  { asOf, kinds }: { asOf: PlainDate; kinds: readonly KindSummary[] },
): PastWindowsAnswer {
  return {
    asOf,
    kinds: kinds.map(({ kind, coverage, byStage, byRecords }) => ({
      kind,
      sentence: sayCoverage(coverage),
      leftOut: listLeftOut(coverage),
      coverage,
      byStage,
      byRecords,
    })),
    windows: rows.slice(0, MOST_WINDOWS).map((row) => {
      const { kind, subjectId, label, scientificName, moults, givenOn, p10, p50, p90 } = row
      const { chanceInside, instarsSeen, came } = row
      const said = { kind, subject: subjectId, label, scientificName, moults, givenOn, p10, p50, p90 }
      return { ...said, chanceInside, instarsSeen, came, verdict: sideOf(row.verdict) }
    }),
  }
}
