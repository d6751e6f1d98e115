import { EmptyScreen } from '@/components/ui/empty-screen'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { instarLabel } from '@/lib/domain/instar/label'
import type { WindowKind } from '@/lib/domain/past-window/given'
import type { KindSummary, RecordsBand } from '@/lib/domain/past-window/summary'
import { listLeftOut, sayHeld, sayMissed, sayTrust } from '@/lib/domain/past-window/wording'
import { loadPastWindowsPage, type PastWindowsPage } from '@/lib/features/past-window/loaders'
import { PrintButton } from '../_components/print-button'
import { CoveragePicture, type CoverageRow } from './_components/coverage-picture'
import { MissedTable } from './_components/missed-table'

const TITLE = 'How good were our windows'
export const metadata = { title: TITLE }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

export default async function PastWindows({ params, searchParams }: Props) {
  const { workspace } = await params
  const page = await loadPastWindowsPage(workspace, await searchParams)
  const { kinds, subject, bySpecies } = page
  const parent = subject
    ? { href: `/w/${workspace}/${subject.path}`, label: subject.name }
    : { href: `/w/${workspace}/species`, label: 'Species' }
  return (
    <>
      <PageHeader
        title={TITLE}
        facts={subject ? <Subject subject={subject} /> : 'All species'}
        parent={parent}
        actions={kinds.length > 0 ? <PrintButton /> : null}
      />
      {kinds.length === 0 ? <Nothing workspace={workspace} /> : <Scheme />}
      {kinds.map((summary) => (
        <Kind key={summary.kind} summary={summary} page={page} />
      ))}
      {bySpecies.length > 1 ? (
        <section className="mt-8">
          <h2 className="mb-2 font-semibold text-lead">Next moult, by species</h2>
          <CoveragePicture
            title="Windows that held, by species"
            rows={bySpecies.map(({ scientificName: label, summary: { coverage } }) => ({
              label,
              coverage,
              isLatin: true,
            }))}
          />
        </section>
      ) : null}
      <MissedTable workspace={workspace} page={page} />
    </>
  )
}

function Subject({ subject }: { subject: NonNullable<PastWindowsPage['subject']> }) {
  return subject.isLatin ? <LatinName name={subject.name} /> : subject.name
}

function Nothing({ workspace }: { workspace: string }) {
  return (
    <EmptyScreen
      title="No window to look back on yet"
      action={
        <LinkButton href={`/w/${workspace}/moult-round`} kind="filled">
          Go on a moult round
        </LinkButton>
      }
    >
      <p>
        Every window that was given is judged once it is over, by the moults and hatches you record. Cups that
        you pass on a round count as well: who is still waiting then is late. What you enter shows here within
        the hour.
      </p>
    </EmptyScreen>
  )
}

function Scheme() {
  return (
    <p className="mt-3 max-w-2xl text-small text-soft">
      One window for each instar, given on the day it was noticed to have begun, from nothing but what your
      records said by then. Each is judged once its last day is over.
    </p>
  )
}

const TITLES: Record<WindowKind, string> = {
  'next-moult': 'Next moult',
  'final-moult': 'Final moult',
  hatch: 'Hatch',
}
const BANDS: Record<RecordsBand, string> = {
  'under-25': 'from under 25 own moults',
  '25-to-99': 'from 25 to 99',
  '100-and-more': 'from 100 and more',
}

function Kind({ summary, page }: { summary: KindSummary; page: PastWindowsPage }) {
  const { kind, coverage } = summary
  const leftOut = listLeftOut(coverage)
  const rows = rowsOf(summary, page)
  return (
    <section className="mt-7">
      <h2 className="font-semibold text-lead">{TITLES[kind]}</h2>
      <p className="mt-1 max-w-2xl text-lead">
        <strong>{sayHeld(coverage)}</strong> {sayMissed(coverage)}
      </p>
      <p className="mt-1 max-w-2xl">{sayTrust(coverage)}</p>
      {leftOut.length > 0 ? (
        <p className="mt-1 max-w-2xl text-small text-soft">{`${leftOut.join('; ')}.`}</p>
      ) : null}
      {rows.length > 0 ? (
        <div className="mt-3">
          <CoveragePicture title={`${TITLES[kind]}: windows that held`} rows={rows} />
        </div>
      ) : null}
    </section>
  )
}

function rowsOf({ coverage, byStage, byRecords }: KindSummary, { naming }: PastWindowsPage): CoverageRow[] {
  if (coverage.judged === 0) return []
  const stages = byStage.filter((stage) => stage.coverage.judged > 0)
  return [
    { label: 'All', coverage },
    ...(stages.length > 1
      ? stages.map((stage) => ({
          label: `out of the ${instarLabel(stage.moults, naming)}`,
          coverage: stage.coverage,
        }))
      : []),
    ...(byRecords.length > 1
      ? byRecords.map((band) => ({ label: BANDS[band.instars], coverage: band.coverage }))
      : []),
  ]
}
