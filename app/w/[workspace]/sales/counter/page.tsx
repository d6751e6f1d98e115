import { PageHeader } from '@/components/ui/page-header'
import { loadCounterPage } from '@/lib/features/sale/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { Counter } from './_components/counter'

export const metadata = { title: 'Counter' }

type Named = 'codes' | 'also' | 'buyer'
type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<Partial<Record<Named, string | string[]>>>
}

const textOf = (value: string | string[] | undefined) => (typeof value === 'string' ? value : '')

/** What lies on the counter stands in the address, so that a lost page brings it back. */
export default async function CounterPage({ params, searchParams }: Props) {
  const { workspace } = await params
  const { codes, also, buyer } = await searchParams
  const asked = { codes: textOf(codes), also: textOf(also), buyer: textOf(buyer) }
  const page = await loadCounterPage(workspace, asked)
  return (
    <>
      <PageHeader title="Counter" facts="Read a label, see whether it may go, sell it, print its sheet" />
      <SalesPlaces workspace={workspace} current="/counter" />
      <Counter workspace={workspace} page={page} />
    </>
  )
}
