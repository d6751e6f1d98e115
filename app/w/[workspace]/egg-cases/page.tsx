import { HatchWindowAxis } from '@/components/hatch/hatch-window-axis'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { isAllowed } from '@/lib/domain/role/permissions'
import { type EggCaseView, loadEggCases } from '@/lib/features/egg-case/loaders'
import { EggCaseTable } from './_components/egg-case-table'
import { WeeksAhead } from './_components/weeks-ahead'
import { listWindows } from './_components/window-of'

export const metadata = { title: 'Egg cases' }

type Props = { params: Promise<{ workspace: string }> }

export default async function EggCases({ params }: Props) {
  const { workspace } = await params
  const { open, ended, weeks, scope, today } = await loadEggCases(workspace)
  const mayWrite = isAllowed(scope.role, 'egg-case:write')
  const windows = open.flatMap(listWindows)
  const record = (
    <LinkButton href={`/w/${workspace}/egg-cases/new`} kind="filled">
      Record an egg case
    </LinkButton>
  )
  const ask = <LinkButton href={`/w/${workspace}/egg-cases/check`}>Can I take another?</LinkButton>
  if (open.length + ended.length === 0)
    return (
      <>
        <PageHeader title="Egg cases" />
        <EmptyScreen title="No egg case yet" action={mayWrite ? record : null}>
          <p>
            Record one that was laid here or that you received, and this page says when it will probably
            hatch, how many nymphs to be ready for, and why.
          </p>
        </EmptyScreen>
      </>
    )
  return (
    <>
      <PageHeader
        title="Egg cases"
        facts={`${open.length} kept, ${windows.length} of them with a window`}
        actions={
          <>
            {ask}
            {mayWrite ? record : null}
          </>
        }
      />
      {windows.length > 0 ? (
        <section className="mt-6">
          <HatchWindowAxis windows={windows} today={today} />
        </section>
      ) : null}
      <AtRest open={open} today={today} />
      <WeeksAhead weeks={weeks} />
      <section className="mt-8">
        <h2 className="mb-2">Kept</h2>
        <EggCaseTable caption="Egg cases that are kept" rows={open} workspace={workspace} today={today} />
      </section>
      {ended.length > 0 ? (
        <section className="mt-10">
          <h2 className="mb-2">Ended</h2>
          <EggCaseTable
            caption="Egg cases that have ended"
            rows={ended}
            workspace={workspace}
            today={today}
          />
        </section>
      ) : null}
    </>
  )
}

/** Those in the cold with no end planned have no place on the axis, and are forgotten there. */
function AtRest({ open, today }: { open: readonly EggCaseView[]; today: PlainDate }) {
  const resting = open.flatMap(({ row, forecast }) =>
    forecast?.status === 'resting' ? [`${row.label} since ${writeDay(forecast.since, today)}`] : [],
  )
  if (resting.length === 0) return null
  return (
    <p className="mt-3 text-small text-soft">
      In the cold with no end planned, so without a window: {resting.join(', ')}.
    </p>
  )
}
