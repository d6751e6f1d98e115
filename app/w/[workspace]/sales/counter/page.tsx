import { PageHeader } from '@/components/ui/page-header'
import { loadCounterPage } from '@/lib/features/sale/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { Counter } from './_components/counter'

export const metadata = { title: 'Counter' }

type Props = {
  params: Promise<{ workspace: string }>
  searchParams: Promise<{ codes?: string | string[] }>
}

/** The animals on the counter stand in the address, so that a lost page brings them back. */
export default async function CounterPage({ params, searchParams }: Props) {
  const { workspace } = await params
  const { codes } = await searchParams
  const page = await loadCounterPage(workspace, typeof codes === 'string' ? codes : '')
  return (
    <>
      <PageHeader title="Counter" facts="Read a label, see whether it may go, sell it, print its sheet" />
      <SalesPlaces workspace={workspace} current="/counter" />
      <Counter workspace={workspace} page={page} />
    </>
  )
}
