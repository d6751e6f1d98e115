import Link from 'next/link'
import { type Column, DataTable } from '@/components/ui/data-table'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { PageHeader } from '@/components/ui/page-header'
import { writeMoney } from '@/lib/domain/money/money'
import { loadPricesPage, type PricesPage as Page } from '@/lib/features/price-list/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { AddList, ListActions } from './_components/list-actions'
import { SetAnimalPrice, SetStockPrice } from './_components/set-price'

export const metadata = { title: 'Prices' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<{ list?: string | string[] }>
}

export default async function PricesPage({ params, searchParams }: Props) {
  const { workspace } = await params
  const { list: asked } = await searchParams
  const page = await loadPricesPage(workspace, typeof asked === 'string' ? asked : undefined)
  const { list, mayWrite } = page
  return (
    <>
      <PageHeader
        title="Prices"
        facts="By species, instar and sex; the counter proposes from one list"
        actions={
          mayWrite && list ? (
            <>
              <SetAnimalPrice workspace={workspace} page={page} list={list.id} />
              <SetStockPrice workspace={workspace} page={page} list={list.id} />
            </>
          ) : null
        }
      />
      <SalesPlaces workspace={workspace} current="/prices" maySell={page.maySell} />
      {list ? (
        <>
          <Lists workspace={workspace} page={page} />
          {mayWrite ? <ListActions workspace={workspace} page={page} list={list} /> : null}
          {list.prices.length === 0 ? (
            <p className="mt-6 text-soft">No price on this list yet.</p>
          ) : (
            <PricesTable list={list} currency={page.currency} />
          )}
        </>
      ) : (
        <EmptyScreen
          title="No price list yet"
          action={mayWrite ? <AddList workspace={workspace} page={page} /> : null}
        >
          <p>
            With a list the counter proposes a price for every cup, and there is a list of what is for sale.
            Several lists may stand beside each other, for fairs or for other shops.
          </p>
        </EmptyScreen>
      )}
    </>
  )
}

function Lists({ workspace, page }: { workspace: string; page: Page }) {
  if (page.lists.length < 2) return null
  return (
    <nav aria-label="Price lists" className="no-print mt-2 flex flex-wrap gap-x-4">
      {page.lists.map(({ id, name }) => (
        <Link
          key={id}
          href={`/w/${workspace}/sales/prices?list=${id}`}
          aria-current={id === page.list?.id ? 'page' : undefined}
          className="target inline-flex items-center aria-[current=page]:font-semibold aria-[current=page]:no-underline"
        >
          {name}
        </Link>
      ))}
    </nav>
  )
}

type List = NonNullable<Page['list']>
type Row = List['prices'][number]

const KIND_WORDS = {
  animal: '',
  egg_case: 'egg case',
  culture: 'culture',
  container: 'container',
  pack: 'pack of live food',
} as const
const SEX_WORDS = { male: 'male', female: 'female', unsexed: 'unsexed' } as const

function PricesTable({ list, currency }: { list: List; currency: string }) {
  const columns: Column<Row>[] = [
    {
      head: 'What',
      isRowHead: true,
      cell: ({ kind, label, speciesId }) => (
        <>
          {KIND_WORDS[kind] ? `${KIND_WORDS[kind]}: ` : ''}
          {speciesId ? <i>{label}</i> : label}
        </>
      ),
    },
    { head: 'Instar', cell: ({ kind, stage }) => (kind === 'animal' ? stage || 'any' : '') },
    { head: 'Sex', cell: ({ kind, sex }) => (kind === 'animal' ? (sex ? SEX_WORDS[sex] : 'any') : '') },
    {
      head: 'Price',
      isFigure: true,
      cell: ({ priceMinor }) => writeMoney(priceMinor ?? 0, currency, 'en'),
    },
  ]
  return (
    <DataTable
      caption={`Prices: ${list.name}`}
      columns={columns}
      rows={list.prices}
      rowKey={({ key }) => key}
    />
  )
}
