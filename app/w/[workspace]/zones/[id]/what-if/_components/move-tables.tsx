import Link from 'next/link'
import type { ReactNode } from 'react'
import { type Column, DataTable } from '@/components/ui/data-table'
import { LatinName } from '@/components/ui/latin-name'
import { shortDay, shortRange } from '@/components/ui/picture/day-scale'
import { writeCount } from '@/lib/domain/calendar/wording'
import { sayShift, sayShifts, shiftDays, type Window } from '@/lib/domain/zone/what-if'
import type { AnimalMoves, NamedMove, ZoneChangePage } from '@/lib/features/zone-change/loaders'

type Props = { workspace: string; page: ZoneChangePage }

/** The coming dates as they are foreseen now and as they would be, each with its window. */
export function MoveTables({ workspace, page }: Props) {
  const { eggCases, clutches, animals } = page
  if (eggCases.length + clutches.length + animals.length === 0)
    return <p className="text-soft">Nothing with a coming date stands here.</p>
  return (
    <div className="space-y-10">
      <Part title="Separation due" isShown={clutches.length > 0}>
        <DataTable
          caption="Clutches and when they would have to be parted"
          columns={namedColumns((id) => `/w/${workspace}/clutches/${id}`)}
          rows={clutches}
          rowKey={({ id }) => id}
        />
      </Part>
      <Part title="Hatch windows" isShown={eggCases.length > 0}>
        <DataTable
          caption="Egg cases and when they would hatch"
          columns={namedColumns((id) => `/w/${workspace}/egg-cases/${id}`)}
          rows={eggCases}
          rowKey={({ id }) => id}
        />
      </Part>
      <Part title="Next moults" isShown={animals.length > 0}>
        <DataTable
          caption="Animals by stage and when they would moult"
          columns={ANIMAL_COLUMNS}
          rows={animals}
          rowKey={({ key }) => key}
        />
      </Part>
      <p className="text-fine-print text-soft">
        Each range holds eight times out of ten; the day in front of it is the likely one.
      </p>
    </div>
  )
}

function Part({ title, isShown, children }: { title: string; isShown: boolean; children: ReactNode }) {
  if (!isShown) return null
  return (
    <section>
      <h2 className="mb-1">{title}</h2>
      {children}
    </section>
  )
}

function namedColumns(address: (id: string) => string): Column<NamedMove>[] {
  return [
    {
      head: 'What',
      isRowHead: true,
      cell: ({ id, label, scientificName }) => (
        <Link
          href={address(id)}
          prefetch={false}
          className="target inline-flex flex-wrap items-center gap-x-2"
        >
          {label}
          <span className="font-normal">
            <LatinName name={scientificName} />
          </span>
        </Link>
      ),
    },
    { head: 'As it is set now', cell: ({ before }) => sayWindow(before) },
    { head: 'Then', cell: ({ after }) => sayWindow(after) },
    { head: 'Moves', cell: (move) => <strong>{sayShift(shiftDays(move))}</strong> },
  ]
}

const ANIMAL_COLUMNS: Column<AnimalMoves>[] = [
  {
    head: 'Who',
    isRowHead: true,
    cell: ({ scientificName, stage, count }) => (
      <>
        <LatinName name={scientificName} />, {stage}
        <span className="block font-normal text-small text-soft">{writeCount(count, 'animal')}</span>
      </>
    ),
  },
  { head: 'As it is set now', cell: ({ before }) => sayWindow(before) },
  { head: 'Then', cell: ({ after }) => sayWindow(after) },
  { head: 'Moves', cell: (group) => <strong>{sayShifts(group)}</strong> },
]

function sayWindow(window: Window | null): string {
  if (!window) return 'cannot be foreseen'
  const { p10, p50, p90 } = window
  return p10 === p90 ? shortDay(p50) : `${shortDay(p50)} (${shortRange(p10, p90)})`
}
