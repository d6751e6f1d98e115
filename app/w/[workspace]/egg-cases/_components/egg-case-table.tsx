import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { LatinName } from '@/components/ui/latin-name'
import { shortRange } from '@/components/ui/picture/day-scale'
import { StateMark } from '@/components/ui/state-mark'
import type { PlainDate } from '@/lib/domain/calendar/date'
import { writeDay } from '@/lib/domain/calendar/wording'
import { sayHatchState } from '@/lib/domain/hatch/wording'
import type { EggCaseView } from '@/lib/features/egg-case/loaders'
import { EGG_CASE_END_WORDS } from '@/lib/features/egg-case/schema'

type Props = { caption: string; rows: readonly EggCaseView[]; workspace: string; today: PlainDate }

export function EggCaseTable({ caption, rows, workspace, today }: Props) {
  const columns: Column<EggCaseView>[] = [
    {
      head: 'Egg case',
      isRowHead: true,
      cell: ({ row }) => (
        <Link
          prefetch={false}
          href={`/w/${workspace}/egg-cases/${row.id}`}
          className="target inline-flex items-center"
        >
          {row.label}
        </Link>
      ),
    },
    { head: 'Species', cell: ({ species }) => <LatinName name={species.scientificName} /> },
    { head: 'Laid', cell: ({ row }) => sayLaid(row, today) },
    { head: 'Where', cell: ({ zone }) => zone?.name ?? '' },
    { head: 'Window', cell: ({ forecast }) => sayWindow(forecast) },
    { head: 'Nymphs', isFigure: true, cell: ({ forecast, row }) => sayNymphs({ forecast, row }) },
    { head: 'State', cell: (view) => <State view={view} today={today} /> },
  ]
  return <DataTable caption={caption} columns={columns} rows={rows} rowKey={({ row }) => row.id} />
}

export function sayLaid(row: EggCaseView['row'], today: PlainDate): string {
  if (row.laidOn) return writeDay(row.laidOn, today)
  if (row.laidFrom && row.laidUntil)
    return `${writeDay(row.laidFrom, today)} to ${writeDay(row.laidUntil, today)}`
  return row.receivedOn ? `received ${writeDay(row.receivedOn, today)}` : ''
}

function sayWindow(forecast: EggCaseView['forecast']): string {
  return forecast?.status === 'forecast' ? shortRange(forecast.p10, forecast.p90) : ''
}

function sayNymphs({ forecast, row }: Pick<EggCaseView, 'forecast' | 'row'>): string {
  const hatched = row.hatches.reduce((sum, { likely }) => sum + likely, 0)
  if (hatched > 0) return `${hatched} hatched`
  return forecast ? `about ${forecast.expectedNymphs.typical}` : ''
}

function State({ view: { row, forecast }, today }: { view: EggCaseView; today: PlainDate }) {
  if (row.end && row.endedOn)
    return (
      <span className="text-small text-soft">
        {EGG_CASE_END_WORDS[row.end]}, {writeDay(row.endedOn, today)}
      </span>
    )
  return <StateMark {...sayHatchState(forecast, row.hatches.length > 0)} />
}
