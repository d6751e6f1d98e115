import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { loadReceiptPage } from '@/lib/features/sale/loaders'
import { PrintPage } from './_components/print-page'
import { ReceiptLines } from './_components/receipt-lines'
import { ReverseSale } from './_components/reverse-sale'
import { SheetPrinting } from './_components/sheet-printing'

export const metadata = { title: 'Receipt' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function ReceiptPage({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadReceiptPage(workspace, id)
  const { sale, seller, today } = page
  return (
    <>
      <PageHeader
        parent={{ href: `/w/${workspace}/sales`, label: 'Sales' }}
        title={`Receipt ${sale.receiptNumber}`}
        facts={`${seller.name} · ${writeDay(sale.on)}${sale.seller ? ` · sold by ${sale.seller}` : ''}`}
        actions={
          <>
            <PrintPage />
            {page.mayReverse && !sale.reversal ? <ReverseSale workspace={workspace} page={page} /> : null}
          </>
        }
      />
      {sale.reversal ? (
        <div className="mt-4">
          <Notice
            state="late"
            what={`This sale was taken back on ${writeDay(sale.reversal.on, today)}.`}
            why={sale.reversal.reason}
          />
        </div>
      ) : null}
      <ReceiptLines workspace={workspace} page={page} />
      {sale.note ? <p className="mt-4">{sale.note}</p> : null}
      {seller.contact ? <p className="mt-4 text-small">{seller.contact}</p> : null}
      {page.mayPrint && !sale.reversal ? <SheetPrinting workspace={workspace} page={page} /> : null}
    </>
  )
}
