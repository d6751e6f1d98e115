import { PageHeader } from '@/components/ui/page-header'
import { listOptionalCountryChoices } from '@/lib/domain/place/choices'
import { loadNewOrderPage } from '@/lib/features/order/loaders'
import { NewOrder } from './_components/new-order'

export const metadata = { title: 'Take an order' }

type Props = { params: Promise<{ workspace: string }> }

export default async function NewOrderScreen({ params }: Props) {
  const { workspace } = await params
  const page = await loadNewOrderPage(workspace)
  return (
    <>
      <PageHeader
        title="Take an order"
        parent={{ href: `/w/${workspace}/orders`, label: 'Orders' }}
        facts="A description now; which animals they are is settled on packing day"
      />
      <NewOrder workspace={workspace} page={page} countries={listOptionalCountryChoices()} />
    </>
  )
}
