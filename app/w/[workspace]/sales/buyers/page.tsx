import { Button } from '@/components/ui/button'
import { EmptyScreen } from '@/components/ui/empty-screen'
import { LinkButton } from '@/components/ui/link-button'
import { PageHeader } from '@/components/ui/page-header'
import { TextField } from '@/components/ui/text-field'
import { listOptionalCountryChoices } from '@/lib/domain/place/choices'
import { loadBuyersPage } from '@/lib/features/buyer/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { AddBuyer } from './_components/add-buyer'
import { BuyersTable } from './_components/buyers-table'

export const metadata = { title: 'Buyers' }

type Asked = { cursor?: string | string[]; search?: string | string[] }
type Props = { params: Promise<{ workspace: string }>; searchParams: Promise<Asked> }

const textOf = (value: string | string[] | undefined) => (typeof value === 'string' ? value : undefined)

export default async function BuyersPage({ params, searchParams }: Props) {
  const { workspace } = await params
  const { cursor, search } = await searchParams
  const page = await loadBuyersPage(workspace, { cursor: textOf(cursor), search: textOf(search) })
  const { items, isFirstPage, mayWrite, nextCursor } = page
  const add = mayWrite ? <AddBuyer workspace={workspace} countries={listOptionalCountryChoices()} /> : null
  const isEmpty = items.length === 0 && isFirstPage && page.search === ''
  return (
    <>
      <PageHeader
        title="Buyers"
        facts="Who buys here, as far as they agreed to be known"
        actions={isEmpty ? null : add}
      />
      <SalesPlaces workspace={workspace} current="/buyers" />
      {isEmpty ? (
        <EmptyScreen title="Nobody yet" action={add}>
          <p>
            A sale needs no name. Add those who want a receipt in their name, an animal kept for them, or a
            parcel; they can be given all that stands here about them, and be forgotten.
          </p>
        </EmptyScreen>
      ) : (
        <>
          <form method="get" className="mt-4 mb-2 flex flex-wrap items-end gap-2">
            <div className="w-64">
              <TextField label="Name or mail address" name="search" defaultValue={page.search} />
            </div>
            <Button type="submit">Find</Button>
          </form>
          {items.length === 0 ? (
            <p className="py-6 text-soft">Nobody here is called that.</p>
          ) : (
            <BuyersTable workspace={workspace} page={page} />
          )}
        </>
      )}
      {nextCursor ? (
        <p className="no-print mt-6">
          <LinkButton
            href={`/w/${workspace}/sales/buyers?cursor=${nextCursor}${page.search ? `&search=${encodeURIComponent(page.search)}` : ''}`}
          >
            More
          </LinkButton>
        </p>
      ) : null}
    </>
  )
}
