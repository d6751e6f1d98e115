import { type Column, DataTable } from '@/components/ui/data-table'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { writeCount } from '@/lib/domain/calendar/wording'
import { writeMoney } from '@/lib/domain/money/money'
import { loadForSalePage } from '@/lib/features/price-list/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { PublicList } from './_components/public-list'

export const metadata = { title: 'For sale' }

type Props = { params: Promise<{ workspace: string }> }
type Row = Awaited<ReturnType<typeof loadForSalePage>>['rows'][number]

export default async function ForSale({ params }: Props) {
  const { workspace } = await params
  const page = await loadForSalePage(workspace)
  const { rows, currency, maySell } = page
  const animals = rows.reduce((sum, { count }) => sum + count, 0)
  const columns: Column<Row>[] = [
    { head: 'Species', isRowHead: true, cell: ({ scientificName }) => <i>{scientificName}</i> },
    { head: 'Instar', cell: ({ stage }) => stage },
    { head: 'Sex', cell: ({ sex }) => sex },
    { head: 'Animals', isFigure: true, cell: ({ count }) => count },
    { head: 'Price', isFigure: true, cell: ({ priceMinor }) => writeMoney(priceMinor, currency, 'en') },
  ]
  return (
    <>
      <PageHeader
        title="For sale"
        facts={`${writeCount(animals, 'animal')} with a price, held for nobody and in no order`}
        actions={
          rows.length > 0 ? (
            <LinkButton href={`/w/${workspace}/sales/for-sale/list.csv`} prefetch={false}>
              As CSV
            </LinkButton>
          ) : null
        }
      />
      <SalesPlaces workspace={workspace} current="/for-sale" maySell={maySell} />
      {rows.length === 0 ? (
        <EmptyScreen
          title="Nothing has a price"
          action={
            <LinkButton href={`/w/${workspace}/sales/prices`} kind="filled">
              To the prices
            </LinkButton>
          }
        >
          <p>What stands on the proposed list and is free appears here, counted by instar and sex.</p>
        </EmptyScreen>
      ) : (
        <>
          <p className="my-3 max-w-2xl text-small text-soft">
            Whether one may leave today is said at the counter, cup by cup.
          </p>
          <DataTable
            caption="For sale"
            columns={columns}
            rows={rows}
            rowKey={({ speciesId, moults, isAdult, sex }) => `${speciesId} ${moults} ${isAdult} ${sex}`}
          />
        </>
      )}
      <PublicList workspace={workspace} page={page} />
    </>
  )
}
