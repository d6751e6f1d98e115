import { PageHeader } from '@/components/ui/page-header'
import { loadTillPage } from '@/lib/features/till/loaders'
import { SalesPlaces } from '../_components/sales-places'
import { TaxRates } from './_components/tax-rates'
import { TillForm } from './_components/till-form'

export const metadata = { title: 'How you sell' }

type Props = { params: Promise<{ workspace: string }> }

export default async function TillSettingsPage({ params }: Props) {
  const { workspace } = await params
  const { terms, currency } = await loadTillPage(workspace)
  const { rates, prices: _, ...till } = terms
  return (
    <>
      <PageHeader
        title="How you sell"
        facts={`Prices in ${currency}, receipts, and how long they are kept`}
      />
      <SalesPlaces workspace={workspace} current="/till" />
      <div className="mt-4">
        <TillForm workspace={workspace} till={till} />
      </div>
      <TaxRates workspace={workspace} rates={rates} />
    </>
  )
}
