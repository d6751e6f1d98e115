import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { LatinName } from '@/components/ui/latin-name'
import { shortDay } from '@/components/ui/picture/day-scale'
import { writeSpread } from '@/lib/domain/room-forecast/wording'
import type { RoomForecastPage } from '@/lib/features/room-forecast/loaders'

type Props = { workspace: string; page: RoomForecastPage; ahead: number }
type Row = RoomForecastPage['bySpecies'][number]

/** Which species can be sold now, and which will be. */
export function SaleAges({ workspace, page, ahead }: Props) {
  const then = page.weeks[ahead]
  const columns: Column<Row>[] = [
    {
      head: 'Species',
      isRowHead: true,
      cell: ({ slug, scientificName }) => (
        <Link
          prefetch={false}
          href={`/w/${workspace}/room?species=${slug}&weeks=${page.query.weeks}`}
          className="target inline-flex items-center"
        >
          <LatinName name={scientificName} />
        </Link>
      ),
    },
    { head: 'Here now', isFigure: true, cell: ({ weeks }) => Math.round(weeks[0]?.living.expected ?? 0) },
    { head: 'To sell now', isFigure: true, cell: ({ weeks }) => said(weeks[0]) },
    ...(then
      ? [
          {
            head: `To sell from ${shortDay(then.week)}`,
            isFigure: true,
            cell: ({ weeks }: Row) => said(weeks[ahead]),
          },
        ]
      : []),
  ]
  return (
    <section className="mt-10">
      <h2 className="mb-2">Old enough to sell</h2>
      <p className="mb-2 text-small text-soft">
        By the stage from which each species is usually sold. Whether one of them may leave on a day is on its
        own page. A species by its stages is behind its name.
      </p>
      <DataTable
        caption="Animals old enough to sell, by species"
        columns={columns}
        rows={page.bySpecies}
        rowKey={({ speciesId }) => speciesId}
      />
    </section>
  )
}

function said(week: Row['weeks'][number] | undefined): string {
  return week ? writeSpread(week.ofSaleAge) : ''
}
