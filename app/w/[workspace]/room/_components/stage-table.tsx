import { type Column, DataTable } from '@/components/ui/data-table'
import { shortDay } from '@/components/ui/picture/day-scale'
import { writeSpread } from '@/lib/domain/room-forecast/wording'
import type { RoomForecastPage, StageRow } from '@/lib/features/room-forecast/loaders'

const SEX_WORDS = { female: '♀ female', male: '♂ male', unsexed: '? unsexed' }

/** Columns of the table; more would not be read, and the API has them all. */
const MOST_COLUMNS = 6

/** Every stage that will be here, with its spread, at a handful of weeks. */
export function StageTable({ page }: { page: RoomForecastPage }) {
  const every = Math.max(1, Math.ceil(page.weeks.length / MOST_COLUMNS))
  const shown = page.weeks.map((week, index) => ({ week, index })).filter(({ index }) => index % every === 0)
  const columns: Column<StageRow>[] = [
    {
      head: 'Stage',
      isRowHead: true,
      cell: ({ stage }) => stage,
    },
    { head: 'Sex', cell: ({ sex }) => SEX_WORDS[sex] },
    ...shown.map(({ week, index }) => ({
      head: shortDay(week.week),
      isFigure: true,
      cell: ({ byWeek }: StageRow) => (byWeek[index] ? writeSpread(byWeek[index]) : ''),
    })),
  ]
  return (
    <section className="mt-10">
      <h2 className="mb-2">By stage</h2>
      <p className="mb-2 text-small text-soft">
        Expected number in the week from that day, with its range of 10 to 90 % where there is one.
      </p>
      <DataTable
        caption="Expected animals by stage and week"
        columns={columns}
        rows={page.stages}
        rowKey={({ key }) => key}
      />
    </section>
  )
}
