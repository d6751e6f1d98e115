import Link from 'next/link'
import { LinkButton } from '@/components/ui/link-button'
import { Notice } from '@/components/ui/notice'
import { PageHeader } from '@/components/ui/page-header'
import { writeDay } from '@/lib/domain/calendar/wording'
import { writeMoney } from '@/lib/domain/money/money'
import { listOptionalCountryChoices } from '@/lib/domain/place/choices'
import { writeReceiptNumber } from '@/lib/domain/sale/receipt-number'
import { loadBuyerPage, type BuyerPage as Page } from '@/lib/features/buyer/loaders'
import { BuyerFacts } from './_components/buyer-facts'
import { EditBuyer } from './_components/edit-buyer'
import { EraseBuyer } from './_components/erase-buyer'

export const metadata = { title: 'Buyer' }

type Props = { params: Promise<{ workspace: string; id: string }> }

export default async function BuyerPage({ params }: Props) {
  const { workspace, id } = await params
  const page = await loadBuyerPage(workspace, id)
  const { buyer, mayWrite } = page
  const isOpen = buyer.erasureAskedOn === null
  return (
    <>
      <PageHeader
        parent={{ href: `/w/${workspace}/sales/buyers`, label: 'Buyers' }}
        title={buyer.erasedOn ? 'A person who was forgotten' : buyer.name}
        facts={page.sales.length === 1 ? 'One receipt' : `${page.sales.length} receipts`}
        actions={
          mayWrite && !buyer.erasedOn ? (
            <>
              {isOpen ? (
                <EditBuyer workspace={workspace} buyer={buyer} countries={listOptionalCountryChoices()} />
              ) : null}
              <LinkButton href={`/w/${workspace}/sales/buyers/${buyer.id}/export.json`} prefetch={false}>
                All about them as a file
              </LinkButton>
              {isOpen ? <EraseBuyer workspace={workspace} page={page} /> : null}
            </>
          ) : null
        }
      />
      <ErasureNotice page={page} />
      {buyer.erasedOn ? null : <BuyerFacts page={page} />}
      <BuyerSales workspace={workspace} page={page} />
    </>
  )
}

function ErasureNotice({ page }: { page: Page }) {
  const { buyer, keepUntil, today } = page
  if (buyer.erasedOn)
    return (
      <div className="mt-4">
        <Notice
          state="fine"
          what={`Forgotten at their wish on ${writeDay(buyer.erasedOn, today)}.`}
          why="Their receipts keep number, day and figures. Backups made before that day still hold the person until they are replaced."
        />
      </div>
    )
  if (!buyer.erasureAskedOn) return null
  return (
    <div className="mt-4">
      <Notice
        state="leave-alone"
        what={`Asked to be forgotten on ${writeDay(buyer.erasureAskedOn, today)}.`}
        why={
          keepUntil
            ? `Receipts that name them have to be kept: name and address go on ${writeDay(keepUntil)}, by themselves.`
            : 'It is done within the day.'
        }
      />
    </div>
  )
}

function BuyerSales({ workspace, page }: { workspace: string; page: Page }) {
  if (page.sales.length === 0) return <p className="mt-6 text-soft">No receipt names them.</p>
  return (
    <section className="mt-8 max-w-3xl">
      <h2>Receipts</h2>
      <ul className="mt-2 divide-y divide-line border-line border-y">
        {page.sales.map(({ id, on, total, lines, reversal, ...number }) => (
          <li key={id} className="flex flex-wrap items-baseline justify-between gap-x-6 py-3">
            <span>
              <Link href={`/w/${workspace}/sales/${id}`} className="font-semibold tabular-nums">
                {writeReceiptNumber(number)}
              </Link>{' '}
              · {writeDay(on, page.today)} · {lines.map(({ description }) => description).join('; ')}
              {reversal ? ' · taken back' : ''}
            </span>
            <span className="tabular-nums">{writeMoney(total.amount, total.currency, 'en')}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}
