import type { PlainDate } from '@/lib/domain/calendar/date'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { formatCode } from '@/lib/domain/label/code'
import { type JudgedWindow, judgeWindow, type Verdict } from '@/lib/domain/past-window/judge'
import { type KindSummary, summarise } from '@/lib/domain/past-window/summary'
import { requireClutch } from '@/lib/features/clutch/data'
import { requireEggCase } from '@/lib/features/egg-case/data'
import { requireIndividual } from '@/lib/features/individual/data'
import { listPastWindows, type PastWindowRow } from '@/lib/features/past-window/data'
import {
  type PastWindowQuery,
  type PastWindowsAnswer,
  pastWindowQuery,
  presentPastWindows,
} from '@/lib/features/past-window/schema'
import { requireSpecies } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { loadPage } from '@/lib/platform/page'
import { asOfOrToday } from '@/lib/platform/plain-date-schema'
import type { Workspace } from '@/lib/platform/workspace'

type Judged = PastWindowRow & { verdict: Verdict }
/** Whose windows they are: a name for the page, and where that leads. */
export type PastWindowSubject = { name: string; isLatin: boolean; path: string } | null
type LookedBack = { asOf: PlainDate; rows: Judged[]; subject: PastWindowSubject }

/** @throws AppError not-found where the one asked about is not here */
async function lookBack(tx: Tx, workspace: Workspace, query: PastWindowQuery): Promise<LookedBack> {
  const { workspaceId, today } = workspace
  const asOf = asOfOrToday(query.asOf, today)
  const { subject, speciesId } = await findSubject(tx, workspace, query)
  const { individual: individualId, clutch: clutchId, eggCase: eggCaseId } = query
  const asked = { speciesId, individualId, clutchId, eggCaseId, asOf }
  const rows = await listPastWindows(tx, workspaceId, asked)
  return { asOf, subject, rows: rows.map((row) => ({ ...row, verdict: judgeWindow(row, row, asOf) })) }
}

async function findSubject(
  tx: Tx,
  { workspaceId }: Workspace,
  { species, individual, clutch, eggCase }: PastWindowQuery,
): Promise<{ subject: PastWindowSubject; speciesId?: string }> {
  if (individual) return namedByCode('individuals', await requireIndividual(tx, workspaceId, individual))
  if (clutch) return namedByCode('clutches', await requireClutch(tx, workspaceId, { id: clutch }))
  if (eggCase) return namedByCode('egg-cases', await requireEggCase(tx, workspaceId, eggCase))
  if (!species) return { subject: null }
  const { id, slug, scientificName } = await requireSpecies(tx, workspaceId, species)
  return { subject: { name: scientificName, isLatin: true, path: `species/${slug}` }, speciesId: id }
}

function namedByCode(path: string, { id, label }: { id: string; label: string }) {
  return { subject: { name: formatCode(label), isLatin: false, path: `${path}/${id}` } }
}

const summaryOf = (rows: readonly Judged[]): KindSummary[] =>
  summarise(
    rows.map(
      (row): JudgedWindow => ({
        window: row,
        verdict: row.verdict,
        familyId: row.familyId,
        instarsSeen: row.instarsSeen,
      }),
    ),
  )

export async function loadPastWindowsAnswer(
  tx: Tx,
  workspace: Workspace,
  query: PastWindowQuery,
): Promise<PastWindowsAnswer> {
  const { rows, asOf } = await lookBack(tx, workspace, query)
  return presentPastWindows(rows, { asOf, kinds: summaryOf(rows) })
}

const MISSES_SHOWN = 12

/** Where the address asks for what cannot be, everything is shown. */
export function loadPastWindowsPage(slug: string, asked: Record<string, string | string[] | undefined>) {
  return loadPage({ slug, permission: 'individual:read' }, async ({ tx, workspace }) => {
    const parsed = pastWindowQuery.safeParse(asked)
    const { rows, subject } = await lookBack(tx, workspace, parsed.success ? parsed.data : {})
    const missed = rows.filter(({ verdict }) => verdict.status === 'judged' && verdict.held < 0.5)
    return {
      subject,
      kinds: summaryOf(rows),
      bySpecies: parsed.success && subject === null ? speciesOf(rows) : [],
      missed: missed.slice(0, MISSES_SHOWN),
      missedInAll: missed.length,
      naming: instarNamingOf(workspace),
      today: workspace.today,
    }
  })
}
export type PastWindowsPage = Awaited<ReturnType<typeof loadPastWindowsPage>>

/** Next moults only: the others are too few to compare species by. */
function speciesOf(rows: readonly Judged[]): { scientificName: string; summary: KindSummary }[] {
  const names = [...new Set(rows.map(({ scientificName }) => scientificName))].sort()
  return names.flatMap((scientificName) => {
    const [summary] = summaryOf(rows.filter((row) => row.scientificName === scientificName))
    return summary?.kind === 'next-moult' && summary.coverage.judged > 0 ? [{ scientificName, summary }] : []
  })
}
