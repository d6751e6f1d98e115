import { SalePapers } from '@/components/paper/paper-list'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { formatCode } from '@/lib/domain/label/code'
import { writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import { NO_CERTIFIED_TILL } from '@/lib/domain/sale/receipt-words'
import { loadReceiptPage } from '@/lib/features/sale/loaders'
import { PrintReceipt } from './_components/print-receipt'
import { ReceiptLines } from './_components/receipt-lines'
import { ReceiptSums } from './_components/receipt-sums'
import { ReturnLines, ReverseSale } from './_components/reverse-sale'
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
        title={`Receipt ${writeReceiptNumber(sale)}`}
        facts={`${seller.name} · ${writeDay(sale.on)}${sale.seller ? ` · sold by ${sale.seller}` : ''}`}
        actions={
          <>
            <PrintReceipt workspace={workspace} sale={sale.id} language={page.language} />
            {page.mayReverse && !sale.reversal ? (
              <>
                {sale.lines.some(({ quantity, returned }) => returned < quantity) ? (
                  <ReturnLines workspace={workspace} page={page} />
                ) : null}
                {sale.returns.length === 0 ? <ReverseSale workspace={workspace} page={page} /> : null}
              </>
            ) : null}
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
      <ReceiptSums page={page} />
      {page.buyerName ? <p className="mt-4">For {page.buyerName}</p> : null}
      {sale.note ? <p className="mt-4">{sale.note}</p> : null}
      {seller.contact ? <p className="mt-4 text-small">{seller.contact}</p> : null}
      {page.words ? <p className="mt-2 whitespace-pre-line text-small">{page.words}</p> : null}
      <p className="mt-2 text-fine-print text-soft">{NO_CERTIFIED_TILL}</p>
      <div className="mt-6 max-w-3xl">
        <SalePapers
          {...{ workspace, today, papers: page.papers, mayWrite: page.mayReverse }}
          sale={sale.id}
          lines={sale.lines
            .filter(({ kind }) => kind === 'animal' || kind === 'egg_case')
            .map(({ number, description, label }) => ({
              value: String(number),
              label: label ? formatCode(label) : description,
            }))}
        />
      </div>
      {page.mayPrint && !sale.reversal ? <SheetPrinting workspace={workspace} page={page} /> : null}
    </>
  )
}
