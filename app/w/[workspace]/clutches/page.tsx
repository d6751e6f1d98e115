import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LatinName } from '@/components/ui/latin-name'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { StateMark } from '@/components/ui/state-mark'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { sayDailyCost, sayDeadline } from '@/lib/domain/separation/wording'
import { type ClutchView, loadClutches } from '@/lib/features/clutch/loaders'

export const metadata = { title: 'Clutches' }

type Props = { params: Promise<{ workspace: string }> }

export default async function Clutches({ params }: Props) {
  const { workspace } = await params
  const { clutches, today } = await loadClutches(workspace)
  if (clutches.length === 0)
    return (
      <>
        <PageHeader title="Clutches" />
        <EmptyScreen
          title="No clutch yet"
          action={
            <LinkButton href={`/w/${workspace}/egg-cases`} kind="filled">
              To the egg cases
            </LinkButton>
          }
        >
          <p>
            A clutch begins when an egg case hatches: record the hatch there, and this page says until when
            the siblings can stay together.
          </p>
        </EmptyScreen>
      </>
    )
  const together = clutches.filter(({ row }) => row.headCount.together > 0)
  const apart = clutches.filter(({ row }) => row.headCount.together === 0)
  const columns = columnsOf(workspace, today)
  const rowKey = ({ row }: ClutchView) => row.id
  return (
    <>
      <PageHeader
        title="Clutches"
        facts={`${together.length} with siblings still together`}
        actions={
          together.length > 0 ? (
            <LinkButton href={`/w/${workspace}/separation-plan`} kind="filled">
              Plan the evenings
            </LinkButton>
          ) : null
        }
      />
      {together.length > 0 ? (
        <DataTable
          caption="Clutches with siblings together"
          columns={columns}
          rows={together}
          rowKey={rowKey}
        />
      ) : (
        <p className="py-6 text-soft">All siblings have been parted.</p>
      )}
      {apart.length > 0 ? (
        <section className="mt-10">
          <h2 className="mb-2">All parted</h2>
          <DataTable
            caption="Clutches whose siblings are all parted"
            columns={[...columns.filter(({ head }) => KEPT_WHEN_APART.has(head)), ...WHERE_THEY_WENT]}
            rows={apart}
            rowKey={rowKey}
          />
        </section>
      ) : null}
    </>
  )
}

const KEPT_WHEN_APART = new Set(['Clutch', 'Species', 'Hatched', 'Single'])
const WHERE_THEY_WENT: Column<ClutchView>[] = [
  { head: 'Sold', isFigure: true, cell: ({ row }) => row.headCount.sold },
  { head: 'Dead', isFigure: true, cell: ({ row }) => row.headCount.dead },
  { head: 'Hatched in all', isFigure: true, cell: ({ row }) => row.headCount.hatched },
]

function columnsOf(workspace: string, today: PlainDate): Column<ClutchView>[] {
  return [
    {
      head: 'Clutch',
      isRowHead: true,
      cell: ({ row }) => (
        <Link
          prefetch={false}
          href={`/w/${workspace}/clutches/${row.id}`}
          className="target inline-flex items-center"
        >
          {row.label}
        </Link>
      ),
    },
    { head: 'Species', cell: ({ species }) => <LatinName name={species.scientificName} /> },
    { head: 'Hatched', cell: ({ row }) => writeDay(row.hatchedOn, today) },
    { head: 'Together', isFigure: true, cell: ({ row }) => row.headCount.together },
    { head: 'Single', isFigure: true, cell: ({ row }) => row.headCount.single },
    { head: 'Where', cell: ({ zone }) => zone?.name ?? '' },
    { head: 'Apart', cell: (view) => <Deadline view={view} today={today} /> },
    { head: 'Waiting costs', cell: ({ forecast }) => sayDailyCost(forecast?.perDayNow ?? 0) },
  ]
}

function Deadline({ view: { row, forecast }, today }: { view: ClutchView; today: PlainDate }) {
  if (!forecast || row.headCount.together < 2) return null
  return <StateMark state={forecast.state} word={sayDeadline(forecast, today)} />
}
