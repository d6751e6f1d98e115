import { WINDOW_KINDS, type WindowKind } from './given'
import { type Coverage, coverageOf, type JudgedWindow } from './judge'

/** Windows of one kind, and the same apart by stage and by how many own records they rested on. */
export type KindSummary = {
  kind: WindowKind
  coverage: Coverage
  /** Ascending; only of next moults. */
  byStage: { moults: number; coverage: Coverage }[]
  byRecords: { instars: RecordsBand; coverage: Coverage }[]
}

/** Completed instars on record when a window was given: hardly any, some, many. */
export const RECORDS_BANDS = [
  { id: 'under-25', from: 0, until: 25 },
  { id: '25-to-99', from: 25, until: 100 },
  { id: '100-and-more', from: 100, until: Number.POSITIVE_INFINITY },
] as const
export type RecordsBand = (typeof RECORDS_BANDS)[number]['id']

/** Kinds without any window are left out. */
export function summarise(judged: readonly JudgedWindow[]): KindSummary[] {
  return WINDOW_KINDS.flatMap((kind) => {
    const own = judged.filter(({ window }) => window.kind === kind)
    if (own.length === 0) return []
    const byStage = kind === 'next-moult' ? stagesOf(own) : []
    const byRecords = kind === 'hatch' ? [] : bandsOf(own)
    return [{ kind, coverage: coverageOf(own), byStage, byRecords }]
  })
}

function stagesOf(judged: readonly JudgedWindow[]): KindSummary['byStage'] {
  const stages = [...new Set(judged.map(({ window }) => window.moults))].sort((a, b) => a - b)
  return stages.map((moults) => ({
    moults,
    coverage: coverageOf(judged.filter(({ window }) => window.moults === moults)),
  }))
}

function bandsOf(judged: readonly JudgedWindow[]): KindSummary['byRecords'] {
  return RECORDS_BANDS.map(({ id, from, until }) => ({
    instars: id,
    coverage: coverageOf(judged.filter(({ instarsSeen }) => instarsSeen >= from && instarsSeen < until)),
  })).filter(({ coverage }) => coverage.judged > 0)
}
