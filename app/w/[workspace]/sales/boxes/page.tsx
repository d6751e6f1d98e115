import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { loadShowBoxesPage, type ShowBoxesPage as Page } from '@/lib/features/show-box/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { PackBox } from './_components/pack-box'

export const metadata = { title: 'Show boxes' }

type Row = Page['boxes'][number]

export default async function ShowBoxesPage({ params }: { params: Promise<{ workspace: string }> }) {
  const { workspace } = await params
  const page = await loadShowBoxesPage(workspace)
  const pack = page.maySell ? <PackBox workspace={workspace} page={page} /> : null
  const isEmpty = page.boxes.length === 0
  return (
    <>
      <PageHeader
        title="Show boxes"
        facts="Animals that travel to a show and come home again"
        actions={isEmpty ? null : pack}
      />
      <SalesPlaces workspace={workspace} current="/boxes" />
      {isEmpty ? (
        <EmptyScreen title="No box packed yet" action={pack}>
          <p>
            Say how many animals and for which days. Those are chosen that will not moult before they are
            back; tags, stand cards and sheets print in one go, and each device sells from its part without a
            connection.
          </p>
        </EmptyScreen>
      ) : (
        <DataTable
          caption="Show boxes"
          columns={listColumns(workspace, page.today)}
          rows={page.boxes}
          rowKey={({ id }) => id}
        />
      )}
    </>
  )
}

function listColumns(workspace: string, today: string): Column<Row>[] {
  return [
    {
      head: 'Box',
      isRowHead: true,
      cell: ({ id, number, name }) => (
        <Link href={`/w/${workspace}/sales/boxes/${id}`} className="inline-block py-1">
          {number}, {name}
        </Link>
      ),
    },
    {
      head: 'Days',
      cell: ({ packOn, returnOn }) => `${writeDay(packOn, today)} to ${writeDay(returnOn, today)}`,
    },
    { head: 'Inside', isFigure: true, cell: ({ out }) => out },
    { head: 'Sold', isFigure: true, cell: ({ sold }) => sold },
    { head: 'Receipts', isFigure: true, cell: ({ receipts }) => receipts },
    {
      head: 'State',
      cell: ({ settledOn }) => (settledOn ? `settled ${writeDay(settledOn, today)}` : 'open'),
    },
  ]
}
