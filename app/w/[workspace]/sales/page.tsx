import Link from 'next/link'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { loadSalesPage } from '@/lib/features/sale/loaders'
import { SalesPlaces } from './_components/sales-places'
import { SalesTable } from './_components/sales-table'

export const metadata = { title: 'Sales' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<{ cursor?: string | string[] }>
}

export default async function SalesPage({ params, searchParams }: Props) {
  const { workspace } = await params
  const { cursor } = await searchParams
  const page = await loadSalesPage(workspace, typeof cursor === 'string' ? cursor : undefined)
  const isEmpty = page.items.length === 0 && page.isFirstPage
  const counter = page.maySell ? (
    <LinkButton href={`/w/${workspace}/sales/counter`} kind="filled">
      To the counter
    </LinkButton>
  ) : null
  return (
    <>
      <PageHeader title="Sales" facts="Receipts, newest first" actions={isEmpty ? null : counter} />
      <SalesPlaces workspace={workspace} current="" />
      {isEmpty ? (
        <EmptyScreen title="Nothing sold yet" action={counter}>
          <p>
            At the counter you read the label of a cup, see whether the animal may leave today, and sell it.
          </p>
        </EmptyScreen>
      ) : (
        <SalesTable workspace={workspace} page={page} />
      )}
      {page.nextCursor ? (
        <p className="no-print mt-6">
          <LinkButton href={`/w/${workspace}/sales?cursor=${page.nextCursor}`}>Older ones</LinkButton>
        </p>
      ) : null}
      {page.maySetTill ? (
        <p className="no-print mt-8 text-small">
          <Link href={`/w/${workspace}/sales/till`}>
            How you sell: taxes, receipts, how long they are kept
          </Link>
        </p>
      ) : null}
    </>
  )
}
